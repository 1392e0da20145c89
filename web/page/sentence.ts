/** An error as a part of a sentence that goes on. */

/** Return what an error says, without its full stop. */
export function sentence(error: unknown): string {
  return (error instanceof Error ? error.message : String(error)).replace(/\.$/, "");
}
