/** Reads patterns in the frames of the camera, off the thread that draws. */
import { prepareZXingModule, readBarcodes } from '../vendor/zxing/es/reader/index.js';

const READER = new URL('../vendor/zxing/reader/zxing_reader.wasm', import.meta.url).href;
// Three: a label may carry its code twice, and a second label may lie beside it.
const OPTIONS = { formats: ['QRCode'], tryHarder: true, maxNumberOfSymbols: 3 };
const worker = /** @type {DedicatedWorkerGlobalScope} */ (/** @type {unknown} */ (self));

const ready = prepareZXingModule({
  overrides: { locateFile: (path, prefix) => (path.endsWith('.wasm') ? READER : prefix + path) },
  fireImmediately: true,
});

worker.addEventListener('message', async ({ data }) => {
  try {
    await ready;
    const found = await readBarcodes(data, OPTIONS);
    worker.postMessage({ texts: found.filter((one) => one.isValid).map((one) => one.text) });
  } catch (error) {
    worker.postMessage({ texts: [], failed: String(error) });
  }
});
