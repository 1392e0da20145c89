/** The room that is left on this device: readings come first. */

/** Room that files leave for readings, in bytes: some fifty gaugings. Ours, no source. */
const ROOM_FOR_READINGS = 5_000_000;

/** Whether a file of so many bytes leaves readings their room; where nobody knows, it does. */
export async function leavesRoom(bytes: number): Promise<boolean> {
  try {
    const { quota = Infinity, usage = 0 } = await navigator.storage.estimate();
    return quota - usage >= bytes + ROOM_FOR_READINGS;
  } catch {
    // A browser that does not tell still refuses what has no room, and that is told.
    return true;
  }
}
