import { canShape } from './can/can-shape.ts';
import { arrowShape } from './arrow/arrow-shape.ts';
import { csvShape } from './csv/csv-shape.ts';
import { ndjsonShape } from './ndjson/ndjson-shape.ts';
import { parquetShape } from './parquet/parquet-shape.ts';
import type { FileShape } from './reader.ts';
import { xlsxShape } from './xlsx/xlsx-shape.ts';

/** Every shape of file that can be read. The first that recognises how a file begins has it; CSV takes what is left. */
export const FILE_SHAPES: readonly FileShape[] = [parquetShape, arrowShape, xlsxShape, ndjsonShape, canShape, csvShape];
