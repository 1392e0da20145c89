/**
 * Whether the app opens and computes without a network, and whether a newer version is here. The
 * service worker does the keeping; this asks it, hears it, and says how it stands.
 */

import type { FromKeeper, ToKeeper, Versions } from "../sw/messages.ts";
import type { Engine, EngineState } from "./engine_contract.ts";

export type OfflineState = "not yet" | "caching" | "ready" | "failed";

export interface OfflineOptions {
  readonly engine: Pick<Engine, "state" | "tryAgain">;
  /** Whether a gauging is open; read reactively. Then no update is offered or taken. */
  readonly busy: () => boolean;
}

/** Seconds without a word from the service worker before it is asked again: it may be ended. */
const SILENT_KEEPING = 60;
/** Milliseconds between looks for a newer version that nobody asked for. */
const LOOK_EVERY = 15 * 60_000;
/** Milliseconds until the page is loaded anew even if the new version has not taken over. */
const TAKING_OVER = 15_000;

export class Offline {
  state: OfflineState = $state("not yet");
  /** Bytes kept, of all; null unless it is being kept. */
  progress: { readonly done: number; readonly of: number } | null = $state.raw(null);
  /** Why it failed, as the end of a sentence; null unless it has. */
  trouble: string | null = $state(null);
  /** The version of the app that is kept. */
  version: string | null = $state(null);
  update: "none" | "waiting" = $state("none");
  /** What is known of a newer version, or what a look for one came to. */
  updateSentence = $state("");
  readonly updateOffered: boolean = $derived.by(
    () => this.update === "waiting" && !this.#options.busy(),
  );

  readonly #options: OfflineOptions;
  #registration: ServiceWorkerRegistration | null = null;
  #begun = false;
  /** Whether files were mended since the engine last began. */
  #mended = $state(false);
  #silentFor = 0;
  #looked = Date.now();
  #taking: ReturnType<typeof setTimeout> | undefined;

  constructor(options: OfflineOptions) {
    this.#options = options;
    const workers: ServiceWorkerContainer | undefined = navigator.serviceWorker;
    if (workers === undefined) {
      this.#fail("this browser keeps no pages");
      return;
    }
    workers.addEventListener("message", (event: MessageEvent<FromKeeper>) => this.#hear(event.data));
    workers.addEventListener("controllerchange", () => {
      if (this.#taking !== undefined) this.#change();
    });
    addEventListener("online", () => this.#retry());
    for (const name of ["focus", "pageshow"]) addEventListener(name, () => this.#lookAgain());
    document.addEventListener("visibilitychange", () => this.#lookAgain());
    setInterval(() => this.#tick(), 1000);
    void workers.ready.then(({ active }) => active?.postMessage({ kind: "check" } satisfies ToKeeper));
    void this.#register();
    $effect.root(() => {
      $effect(() => this.#followEngine(options.engine.state));
    });
  }

  /** Keep what is missing, now. */
  keepNow(): void {
    const active = this.#registration?.active;
    if (!active) {
      void this.#register();
      return;
    }
    if (this.state !== "ready") this.state = "caching";
    this.#silentFor = 0;
    active.postMessage({ kind: "keep all" } satisfies ToKeeper);
  }

  /** Look for a newer version because somebody asks, and say what came of it. */
  async lookForUpdate(): Promise<void> {
    this.#looked = Date.now();
    if (this.#registration === null) return;
    this.updateSentence = "Looking for a newer version.";
    try {
      await this.#registration.update();
    } catch {
      this.updateSentence = "The host could not be reached, so a newer version may exist.";
      return;
    }
    if (this.#registration.installing !== null) {
      this.updateSentence = "A newer version is being fetched.";
    } else if (this.#registration.waiting === null) {
      this.updateSentence = "This is the newest version.";
    } else {
      void this.#tellOfUpdate(this.#registration.waiting);
    }
  }

  /** Change to the waiting version; the page is loaded anew. Does nothing while a gauging is open. */
  askToUpdate(): void {
    const waiting = this.#registration?.waiting;
    if (!waiting || !this.updateOffered) return;
    this.updateSentence = "Changing to the new version.";
    this.#taking = setTimeout(() => this.#change(), TAKING_OVER);
    waiting.postMessage({ kind: "take over" } satisfies ToKeeper);
  }

  /** Load the page anew, unless a gauging was opened since somebody asked for it. */
  #change(): void {
    clearTimeout(this.#taking);
    this.#taking = undefined;
    if (this.#options.busy()) {
      this.updateSentence = "The new version comes when this page is loaded anew: close the gauging first.";
    } else location.reload();
  }

  async #register(): Promise<void> {
    try {
      this.#registration = await navigator.serviceWorker.register(
        new URL("sw.js", document.baseURI),
        { updateViaCache: "none" },
      );
    } catch (error) {
      this.#fail(`the service worker could not be started (${String(error)})`);
      return;
    }
    const registration = this.#registration;
    if (registration.waiting !== null) void this.#tellOfUpdate(registration.waiting);
    if (registration.installing !== null) this.#follow(registration.installing);
    registration.onupdatefound = () => this.#follow(registration.installing!);
  }

  #follow(installing: ServiceWorker): void {
    const isUpdate = this.#registration?.active != null;
    let installed = false;
    installing.onstatechange = () => {
      if (installing.state === "installed") {
        installed = true;
        if (isUpdate) void this.#tellOfUpdate(installing);
      } else if (installing.state === "activating") this.update = "none";
      else if (installing.state === "redundant" && !installed) {
        if (!isUpdate) this.#fail("its files could not be fetched whole");
        else this.updateSentence = "A newer version could not be fetched whole; this one stays.";
      }
    };
  }

  /** Keep the engine's files once it has had the connection to itself, whatever became of it. */
  #followEngine(state: EngineState): void {
    if (state !== "loading" && !this.#begun) {
      this.#begun = true;
      void navigator.serviceWorker.ready.then((registration) => {
        // Registering may take longer than being ready, where an earlier visit left a worker.
        this.#registration ??= registration;
        if (this.state !== "ready") this.keepNow();
      });
    }
    if (state === "off" && this.#mended) {
      this.#mended = false;
      this.#options.engine.tryAgain();
    }
  }

  /**
   * A worker that does not say its version is none that waits to be taken. The running one is not
   * asked: a message now would keep it from giving way to one that takes over by itself.
   */
  async #tellOfUpdate(waiting: ServiceWorker): Promise<void> {
    const next = await versionsOf(waiting);
    if (waiting.state !== "installed") return;
    this.update = "waiting";
    const computes = next.engine === ENGINE_PLACE.version ? "as this one does" : "with changed files";
    this.updateSentence = `Version ${next.app} is here. It computes ${computes}.`;
  }

  #hear(message: FromKeeper): void {
    this.#silentFor = 0;
    if (message.kind === "keeping") {
      // A check of what was whole before is no news, unless it ends otherwise.
      if (this.state === "ready") return;
      this.state = "caching";
      this.progress = { done: message.done, of: message.of };
    } else if (message.kind === "kept") {
      this.state = "ready";
      this.progress = null;
      this.trouble = null;
      this.version = message.version;
      if (message.mended > 0) this.#mended = true;
    } else if (message.kind === "not kept") this.#fail(message.why);
    else if (message.kind === "withdrawn") {
      this.#registration = null;
      this.#fail("the host no longer has it kept on devices; readings stay on this one");
    } else if (this.#taking !== undefined) {
      clearTimeout(this.#taking);
      this.#taking = undefined;
      this.updateSentence = "Bankside is open in another tab or window: close it there first.";
    }
  }

  #tick(): void {
    if (this.state !== "caching") return;
    this.#silentFor += 1;
    if (this.#silentFor >= SILENT_KEEPING) this.keepNow();
  }

  #retry(): void {
    if (this.state === "failed") this.keepNow();
  }

  #lookAgain(): void {
    if (document.visibilityState === "hidden" || this.#registration === null) return;
    this.#retry();
    if (Math.abs(Date.now() - this.#looked) < LOOK_EVERY) return;
    this.#looked = Date.now();
    // Without a network there is nothing to look for, and nothing to say about it.
    this.#registration.update().catch(() => undefined);
  }

  #fail(why: string): void {
    this.state = "failed";
    this.progress = null;
    this.trouble = why;
  }
}

export function createOffline(options: OfflineOptions): Offline {
  return new Offline(options);
}

function versionsOf(worker: ServiceWorker): Promise<Versions> {
  const { port1, port2 } = new MessageChannel();
  const told = new Promise<Versions>((resolve) => {
    port1.onmessage = ({ data }: MessageEvent<Versions>) => resolve(data);
  });
  worker.postMessage({ kind: "tell version" } satisfies ToKeeper, [port2]);
  return told;
}
