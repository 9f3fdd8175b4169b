/** The same PDF with its small objects packed together: a browser writes the tree of tags, a third of the file, as plain text. */
import { PDFDocument } from 'pdf-lib';

/** of the file's objects, between two looks at what else there is to do */
const AT_ONCE = 50;

/** @returns what came in, when it cannot be read or does not get smaller */
export async function slimPdf(pdf: Uint8Array): Promise<Uint8Array> {
  try {
    const read = await PDFDocument.load(pdf, { updateMetadata: false, parseSpeed: AT_ONCE });
    const packed = await read.save({
      useObjectStreams: true,
      addDefaultPage: false,
      updateFieldAppearances: false,
      objectsPerTick: AT_ONCE,
    });
    return packed.length < pdf.length ? packed : pdf;
  } catch {
    return pdf;
  }
}
