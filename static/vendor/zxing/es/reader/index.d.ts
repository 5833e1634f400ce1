/** What the bench uses of the vendored reader. */
export interface Found {
  text: string;
  isValid: boolean;
}

export interface ReaderOptions {
  formats: string[];
  tryHarder: boolean;
  maxNumberOfSymbols: number;
}

export function prepareZXingModule(options: {
  overrides: { locateFile: (path: string, prefix: string) => string };
  fireImmediately: true;
}): Promise<unknown>;

export function readBarcodes(image: ImageData, options: ReaderOptions): Promise<Found[]>;
