/** Milliseconds after which nothing is waited for: a page in the background is not drawn at all. */
const NOT_DRAWN = 1000;

/** Resolve once what the page shows now was drawn, so that nothing else delays that. */
export function drawn(): Promise<void> {
  return new Promise((done) => {
    setTimeout(done, NOT_DRAWN);
    // A frame is drawn after its callbacks, and tasks come after that.
    requestAnimationFrame(() => setTimeout(done));
  });
}
