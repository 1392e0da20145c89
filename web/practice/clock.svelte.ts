/** The seconds that a picture has been moving; it stands still for those who asked for less motion. */

export class Clock {
  seconds = $state(0);

  constructor() {
    $effect(() => {
      if (matchMedia("(prefers-reduced-motion: reduce)").matches) return;
      const began = performance.now();
      let frame = requestAnimationFrame(next);
      const clock = this;
      function next(now: number): void {
        clock.seconds = (now - began) / 1000;
        frame = requestAnimationFrame(next);
      }
      return () => cancelAnimationFrame(frame);
    });
  }
}
