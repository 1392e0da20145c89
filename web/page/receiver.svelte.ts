/** The receiver of this device: it measures until it is told to stop. */

import { meanFix, type Fix, type MeanFix } from "./position_mean.ts";

/** After so long without a fix something is in the way. */
const PATIENCE_MS = 60_000;

export class Receiver {
  #fixes: readonly Fix[] = $state.raw([]);
  measuring = $state(false);
  /** Why there is no position, and what to do, in plain words; null while there is hope. */
  trouble: string | null = $state(null);
  readonly mean: MeanFix | null = $derived(meanFix(this.#fixes));
  #watch: number | null = null;

  start(): void {
    this.#fixes = [];
    this.trouble = null;
    if (!("geolocation" in navigator)) {
      this.trouble = "This browser has no receiver to ask. Type the position below.";
      return;
    }
    this.measuring = true;
    this.#watch = navigator.geolocation.watchPosition(
      ({ coords }) => {
        this.trouble = null;
        const { longitude: lon, latitude: lat, accuracy: accuracy_m } = coords;
        this.#fixes = [...this.#fixes, { lon, lat, accuracy_m }];
      },
      (error) => this.#failed(error),
      { enableHighAccuracy: true, maximumAge: 0, timeout: PATIENCE_MS },
    );
  }

  stop(): void {
    if (this.#watch !== null) navigator.geolocation.clearWatch(this.#watch);
    this.#watch = null;
    this.measuring = false;
  }

  #failed({ code }: GeolocationPositionError): void {
    if (code === 1) {
      this.stop();
      this.trouble =
        "This device does not let the app know where it is. Allow the position for this page in " +
        "the settings of the browser and in those of the device, then try again; or type the " +
        "position from a receiver or a map.";
    } else if (this.#fixes.length === 0) {
      this.trouble =
        code === 3
          ? "There is no fix after a minute. Hold the device under open sky and wait, or type the position."
          : "The device finds no position at present. It goes on trying; see that its location is switched on, or type the position.";
    }
  }
}
