/** Giving a file to the person: through the device's own sharing, a chosen place, or a download. */

/** "unknown" where nothing but a person can say whether the file arrived. */
export type HandedOver = "arrived" | "given up" | "unknown";

interface PickedFile {
  createWritable(): Promise<{ write(data: Blob): Promise<void>; close(): Promise<void> }>;
}
type Picker = (wanted: { suggestedName: string }) => Promise<PickedFile>;

export async function handOver(blob: Blob, name: string): Promise<HandedOver> {
  const file = new File([blob], name, { type: blob.type });
  try {
    // On a phone the sheet of the device leads to files, mail and other devices nearby alike.
    if (matchMedia("(pointer: coarse)").matches && navigator.canShare?.({ files: [file] })) {
      await navigator.share({ files: [file], title: name });
      // Another app took it: a mail may still be thrown away before it is sent.
      return "unknown";
    }
    const pick = (window as { showSaveFilePicker?: Picker }).showSaveFilePicker;
    if (pick) {
      const stream = await (await pick({ suggestedName: name })).createWritable();
      await stream.write(blob);
      await stream.close();
      return "arrived";
    }
  } catch (error) {
    if (error instanceof DOMException && error.name === "AbortError") return "given up";
    // Sharing or choosing is not allowed here: a download always is.
  }
  download(blob, name);
  return "unknown";
}

function download(blob: Blob, name: string): void {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(blob);
  link.download = name;
  link.click();
  // Not at once: some browsers begin to read after the press.
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}
