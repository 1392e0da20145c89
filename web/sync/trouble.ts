/** What keeps a device and the server of its office apart, in one sentence for people. */

/**
 * unreachable: no network, or nothing that answers in time. not signed in: the server does not know
 * this device, or no more. refused: what was asked is not allowed or not possible. server: the
 * server failed, or something else answered in its place.
 */
export type SyncTroubleKind = "unreachable" | "not signed in" | "refused" | "server";

export class SyncTrouble extends Error {
  override readonly name = "SyncTrouble";
  readonly kind: SyncTroubleKind;
  /** The status of the answer, undefined where there was none. */
  readonly status: number | undefined;

  constructor(kind: SyncTroubleKind, message: string, status?: number, cause?: unknown) {
    super(message, { cause });
    this.kind = kind;
    this.status = status;
  }
}

export const UNREACHABLE = (cause: unknown): SyncTrouble =>
  new SyncTrouble("unreachable", "The office's server cannot be reached at present.", undefined, cause);

export const NOT_SIGNED_IN = (): SyncTrouble =>
  new SyncTrouble(
    "not signed in",
    "The office's server does not let this device in: it was revoked, or never paired.",
    401,
  );

export const OTHER_ANSWER = (): SyncTrouble =>
  new SyncTrouble(
    "server",
    "Something answered that is not the office's server: perhaps this network asks for a sign-in first.",
  );
