/** The seconds that a picture has been moving; it stands still for those who asked for less motion. */

export class Clock {
  seconds = $state(0);

  /** Move on with every frame, until the function that is returned is called. */
  run(): () => void {
    if (matchMedia("(prefers-reduced-motion: reduce)").matches) return () => undefined;
    const began = performance.now();
    const next = (now: number): void => {
      this.seconds = (now - began) / 1000;
      frame = requestAnimationFrame(next);
    };
    let frame = requestAnimationFrame(next);
    return () => cancelAnimationFrame(frame);
  }
}
