/** Keeps the screen lit while readings are taken, where the browser can. */

export function keepAwake(): () => void {
  let lock: WakeLockSentinel | null = null;
  let over = false;
  // Browsers without it have no such property, whatever their type says.
  const { wakeLock } = navigator as Partial<Navigator>;
  const take = async () => {
    if (over || document.visibilityState !== "visible") return;
    try {
      lock = (await wakeLock?.request("screen")) ?? null;
      if (over) await lock?.release();
    } catch {
      // Refused, as when the battery is low: the screen sleeps, and nothing is lost by it.
    }
  };
  document.addEventListener("visibilitychange", take);
  void take();
  return () => {
    over = true;
    document.removeEventListener("visibilitychange", take);
    void lock?.release();
  };
}
