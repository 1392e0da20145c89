/** One tab of the device syncs at a time, by a lock that goes with the tab. */

const LOCK = "bankside-sync";

/**
 * Do work that no other tab does meanwhile. Without `wait`, nothing is done where another tab has
 * it, and undefined is returned. Two would do no harm to what is kept, so a browser without locks
 * lets every tab.
 */
export async function alone<T>(work: () => Promise<T>, wait = false): Promise<T | undefined> {
  const locks = (navigator as { readonly locks?: LockManager }).locks;
  if (locks === undefined) return work();
  const given = await locks.request(LOCK, wait ? {} : { ifAvailable: true }, async (lock) =>
    lock === null ? undefined : { done: await work() },
  );
  return given?.done;
}
