/** What a device takes along of its office: kept with its settings, asked for anew by its tag. */

import { isObject } from "../journal/entry_check.ts";
import type { Store } from "../journal/store_contract.ts";
import type { Field } from "./contract.ts";
import type { Run } from "./run.ts";

const SETTING = "field";

interface FieldKept {
  readonly etag: string | null;
  readonly field: Field;
}

/** Return what was taken along, null where nothing was. */
export async function fieldKept(store: Store): Promise<Field | null> {
  return (await kept(store))?.field ?? null;
}

/** Take along what is new at the office; return it, null where nothing is. */
export async function takeAlong(run: Run): Promise<Field | null> {
  await run.quiet();
  const before = await kept(run.store);
  const found = await run.client.field(before?.etag ?? null);
  if (found === "unchanged") return null;
  await run.quiet();
  await run.store.setSetting(SETTING, found satisfies FieldKept);
  return found.field;
}

async function kept(store: Store): Promise<FieldKept | null> {
  const found = await store.setting(SETTING);
  return isObject(found) && isObject(found["field"]) ? (found as unknown as FieldKept) : null;
}
