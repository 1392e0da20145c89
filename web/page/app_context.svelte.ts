/** What every screen may use: the store, the engine, settings, where the person is. */

import { getContext, setContext } from "svelte";

import type { Store } from "../journal/store_contract.ts";
import type { DeviceClock } from "./device_clock.svelte.ts";
import type { Engine } from "./engine_contract.ts";
import type { OpenGauging, Saying } from "./gauging.svelte.ts";
import type { LastVisit } from "./last_visit.ts";
import type { OfficeHere } from "./office_here.svelte.ts";
import type { Offline } from "./offline.svelte.ts";
import { isPractice, practising, TO_PRACTICE } from "./practising.ts";
import type { StorageKeeping } from "./storage_keeping.svelte.ts";
import type { Sync } from "./sync.svelte.ts";

export type Step = "set-out" | "plan" | "read" | "check" | "close" | "note" | "stream" | "debrief";
const ALWAYS: readonly Step[] = ["set-out", "plan", "read", "check", "close"];
/** In practice the stream comes first, and at the end what is to be learnt from it. */
export const STEPS: readonly Step[] = practising ? ["stream", ...ALWAYS, "debrief"] : ALWAYS;

/**
 * #/ the list; #/settings, #/pair/CODE; #/desk/…; #/gauging/ID/STEP, the step's own part behind it.
 * In practice the same behind #/practice.
 */
export type Place =
  | { readonly screen: "list" }
  /** The code by which this device is to be paired, where the address has one. */
  | { readonly screen: "settings"; readonly code?: string }
  | { readonly screen: "desk"; readonly path: readonly string[] }
  /** Of practice alone. */
  | { readonly screen: "drills" }
  | { readonly screen: "readiness" }
  | { readonly screen: "gauging"; readonly id: string; readonly step: Step; readonly part: string };

export function placeOf(hash: string): Place {
  const parts = hash.replace(/^#\/?/, "").split("/").map(decoded);
  const [screen, ...path] = isPractice(hash) ? parts.slice(1) : parts;
  const [id, step, ...part] = path;
  if (screen === "settings") return { screen };
  if ((screen === "drills" || screen === "readiness") && practising) return { screen };
  if (screen === "desk") return { screen, path: path.filter((one) => one !== "") };
  if (screen === "pair") return { screen: "settings", code: id ?? "" };
  if (screen === "gauging" && id) {
    const known: Step = [...STEPS, "note"].find((name) => name === step) as Step | undefined ?? STEPS[0]!;
    return { screen, id, step: known, part: part.join("/") };
  }
  return { screen: "list" };
}

/** An address that nobody wrote by this app is taken as it is, and leads to what is not there. */
function decoded(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}

export function hashOf(place: Place): string {
  return `${practising ? TO_PRACTICE : "#"}/${pathOf(place)}`;
}

function pathOf(place: Place): string {
  if (place.screen === "list") return "";
  if (place.screen === "drills") return "drills";
  if (place.screen === "readiness") return "readiness";
  if (place.screen === "settings") {
    return place.code === undefined ? "settings" : `pair/${encodeURIComponent(place.code)}`;
  }
  if (place.screen === "desk") return ["desk", ...place.path.map(encodeURIComponent)].join("/");
  const part = place.part ? `/${place.part}` : "";
  return `gauging/${encodeURIComponent(place.id)}/${place.step}${part}`;
}

/** How a person wants the app; kept on the device. */
export interface Settings {
  hand: "right" | "left";
  look: "light" | "dark";
  text: "normal" | "large" | "larger";
  units: "ft" | "m";
  /** Whether tenths and hundredths are typed without a decimal key. */
  fixedDecimals: boolean;
  sound: boolean;
  vibration: boolean;
  speak: boolean;
  recorder: string;
  ruleSet: string;
}

export const USUAL_SETTINGS: Readonly<Settings> = {
  hand: "right",
  look: "light",
  text: "normal",
  units: "ft",
  fixedDecimals: false,
  sound: true,
  vibration: true,
  speak: false,
  recorder: "",
  ruleSet: "common-practice",
};

export interface AppContext {
  readonly store: Store;
  readonly engine: Engine;
  readonly offline: Offline;
  readonly clock: DeviceClock;
  readonly office: OfficeHere;
  readonly storage: StorageKeeping;
  readonly sync: Sync;
  readonly settings: Settings;
  /** Whether a person ever chose: the usual units are nobody's word. */
  readonly settingsChosen: boolean;
  /** Why the settings are not kept, in one sentence. */
  readonly settingsTrouble: string | null;
  readonly place: Place;
  readonly gauging: OpenGauging | null;
  /** The gaugings with entries that are not on the device yet, left or open. */
  readonly unsaved: readonly OpenGauging[];
  /** The last visit to the place of the open gauging that is on this device. */
  readonly lastVisit: LastVisit | null;
  /** Why it could not be looked for, without a full stop; null where it could. */
  readonly lastVisitTrouble: string | null;
  go(place: Place): void;
  /** Go to a place in the stead of the present one: the way back leads past it. */
  goInstead(place: Place): void;
  /** Start a gauging with these entries and go to it, once what it needs besides is kept. */
  begin(sayings: readonly Saying[], keep?: (id: string) => Promise<void>): Promise<void>;
  /** Take in what came to this device from a file, where it is of a gauging that is open. */
  reread(): Promise<void>;
  keepSettings(changed: Partial<Settings>): Promise<void>;
}

const KEY = Symbol("app");

export function setApp(context: AppContext): void {
  setContext(KEY, context);
}

export function useApp(): AppContext {
  return getContext<AppContext>(KEY);
}
