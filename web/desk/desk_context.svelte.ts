/** What every screen of the desk may use: the office's server, and who sits there. */

import { getContext, setContext } from "svelte";

import type { AppContext } from "../page/app_context.svelte.ts";
import { sentence } from "../page/sentence.ts";
import type { About, Role } from "./asking/answers.ts";
import { Office } from "./asking/office.ts";
import { TakingIn } from "./taking_in.svelte.ts";

const RANKS: readonly Role[] = ["crew", "reviewer", "lead"];

export class Desk {
  readonly office: Office;
  /** Sheets on their way in: they stay while somebody looks at something else. */
  readonly taking: TakingIn;
  readonly #app: AppContext;
  /** null until the server has answered. */
  about: About | null = $state.raw(null);
  /** Why the server did not answer, in one sentence. */
  trouble: string | null = $state(null);
  /** Whether somebody has to sign in before anything is shown. */
  readonly locked: boolean = $derived(
    this.about !== null && this.about.sign_in && this.about.you === null,
  );
  /** Who says what is said here; undefined until somebody gives a name. */
  readonly who: string | undefined = $derived.by(() => {
    const { about } = this;
    if (about?.sign_in) return about.you?.name;
    return this.#app.settings.recorder.trim() || undefined;
  });

  constructor(app: AppContext, office = new Office()) {
    this.#app = app;
    this.office = office;
    this.taking = new TakingIn(office);
    office.onunknown = () => {
      if (this.about !== null) this.about = { ...this.about, you: null };
    };
    void this.look();
  }

  /** Ask the server who it is, and whom it takes us for. */
  async look(): Promise<void> {
    try {
      this.about = await this.office.about();
      this.trouble = null;
    } catch (error) {
      this.trouble = `${sentence(error)}.`;
    }
  }

  /** Whether who sits here may do what a role may do. */
  may(role: Role): boolean {
    const own = this.about?.you?.role;
    return own !== undefined && RANKS.indexOf(own) >= RANKS.indexOf(role);
  }

  async signIn(name: string, password: string): Promise<void> {
    await this.office.signIn(name, password);
    await this.look();
  }

  async signOut(): Promise<void> {
    try {
      await this.office.signOut();
    } finally {
      if (this.about !== null) this.about = { ...this.about, you: null };
    }
  }
}

const DESK = Symbol("desk");

export function setDesk(desk: Desk): void {
  setContext(DESK, desk);
}

export function useDesk(): Desk {
  return getContext<Desk>(DESK);
}
