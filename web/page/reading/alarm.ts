/** Tells the end of an exposure by sound and vibration, as far as the device has them. */

/** When the two tones begin, in seconds after the end. */
const TONES = [0, 0.35] as const;
const PITCH_HZ = 1760;
const LENGTH_S = 0.2;

export class Alarm {
  #audio: AudioContext | null = null;
  #planned: OscillatorNode[] = [];

  /** Sound after so many seconds; laid out now, so that a hidden page sounds in time as well. */
  soundIn(seconds: number): void {
    this.hush();
    if (typeof AudioContext === "undefined") return;
    try {
      this.#audio ??= new AudioContext();
      this.#audio.resume().catch(() => undefined);
      for (const tone of TONES) this.#plan(this.#audio, this.#audio.currentTime + seconds + tone);
    } catch {
      // A browser that gives no sound; the count-down is seen, and felt where it vibrates.
    }
  }

  vibrate(): void {
    // Some browsers have no vibration, whatever their type says.
    (navigator as Partial<Navigator>).vibrate?.([400, 150, 400]);
  }

  /** Take back what was planned to sound. */
  hush(): void {
    for (const tone of this.#planned) tone.disconnect();
    this.#planned = [];
  }

  #plan(audio: AudioContext, at: number): void {
    const tone = audio.createOscillator();
    const volume = audio.createGain();
    tone.frequency.value = PITCH_HZ;
    volume.gain.setValueAtTime(0, at);
    volume.gain.linearRampToValueAtTime(0.9, at + 0.02);
    volume.gain.setValueAtTime(0.9, at + LENGTH_S - 0.03);
    volume.gain.linearRampToValueAtTime(0, at + LENGTH_S);
    tone.connect(volume).connect(audio.destination);
    tone.start(at);
    tone.stop(at + LENGTH_S);
    this.#planned.push(tone);
  }
}
