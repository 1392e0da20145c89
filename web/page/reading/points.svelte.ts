/**
 * At which points of its depth a vertical is read, and how the rod is set for them: by the engine,
 * which is asked while the depth is typed, or as the recorder chose.
 */

import type { Settings } from "../app_context.svelte.ts";
import type { Engine } from "../engine_contract.ts";
import type { OpenGauging } from "../gauging.svelte.ts";
import type { VerticalSaid } from "../section.ts";
import type { Reply, RodPoint } from "../view.ts";

export type Fractions = readonly (number | null)[];

export interface PointsAround {
  readonly gauging: OpenGauging;
  readonly engine: Engine;
  readonly settings: () => Settings;
  /** The unit of depths as it is said. */
  readonly depthUnit: () => string | undefined;
}

export class Points {
  /** By vertical, where the recorder chose. */
  chosen: { readonly [vertical: string]: Fractions } = $state.raw({});
  readonly #around: PointsAround;
  readonly #asked = new Set<string>();
  #said: ReadonlyMap<string, readonly RodPoint[]> = $state.raw(new Map());

  constructor(around: PointsAround) {
    this.#around = around;
  }

  /** Where a vertical is read; null while nobody says. */
  of(vertical: VerticalSaid): Fractions | null {
    return own(this.chosen, vertical.key) ?? this.rodOf(vertical)?.map(({ fraction }) => fraction) ?? null;
  }

  choose(vertical: string, fractions: Fractions): void {
    this.chosen = { ...this.chosen, [vertical]: fractions };
  }

  /** How the rod is set for a vertical, by the engine; null while it does not say. */
  rodOf(vertical: VerticalSaid): readonly RodPoint[] | null {
    if (vertical.depth === null) return null;
    const asked = this.#said.get(this.#keyOf(vertical.depth));
    if (asked !== undefined) return asked.length > 0 ? asked : null;
    const { view, fresh } = this.#around.gauging;
    const viewed = view !== null && fresh ? own(view.rod, vertical.key) : undefined;
    return viewed !== undefined && viewed.length > 0 ? viewed : null;
  }

  /** Ask about a depth unless that was done; a question that failed is put again the next time. */
  async want(depth: string): Promise<void> {
    const { engine, gauging } = this.#around;
    const key = this.#keyOf(depth);
    if (this.#around.depthUnit() === undefined || this.#asked.has(key)) return;
    this.#asked.add(key);
    const rotor = gauging.text("meter/rotor");
    try {
      const reply: Reply<{ points: readonly RodPoint[] }> = await engine.ask({
        ask: "rod",
        depth,
        unit: this.#around.depthUnit(),
        rule_set: this.#ruleSet(),
        ...(rotor === undefined ? {} : { rotor }),
      });
      this.#said = new Map([...this.#said, [key, reply.ok ? reply.points : []]]);
    } catch {
      this.#asked.delete(key);
    }
  }

  #ruleSet(): string {
    return this.#around.gauging.text("rule_set") ?? this.#around.settings().ruleSet;
  }

  #keyOf(depth: string): string {
    const rotor = this.#around.gauging.text("meter/rotor");
    return JSON.stringify([depth, this.#around.depthUnit(), this.#ruleSet(), rotor]);
  }
}

/** A key from elsewhere may be named as something that every object has. */
function own<T>(by: { readonly [key: string]: T }, key: string): T | undefined {
  return Object.hasOwn(by, key) ? by[key] : undefined;
}
