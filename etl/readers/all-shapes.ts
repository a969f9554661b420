import { canShape } from './can/can-shape.ts';
import { arrowShape } from './arrow-shape.ts';
import { csvShape } from './csv-shape.ts';
import { ndjsonShape } from './ndjson-shape.ts';
import { parquetShape } from './parquet-shape.ts';
import type { FileShape } from './reader.ts';
import { xlsxShape } from './xlsx-shape.ts';

/** Every shape of file that can be read. The first that recognises how a file begins has it; CSV takes what is left. */
export const FILE_SHAPES: readonly FileShape[] = [parquetShape, arrowShape, xlsxShape, ndjsonShape, canShape, csvShape];
