import { crc32, deflateRawSync } from 'node:zlib';

/** A cell as a spreadsheet stores it: the XML inside `<c …>`. */
export type SheetCell = string | number | boolean | Date | { formula: string; value: string | number } | null;

/** A ZIP archive by the book (PKWARE APPNOTE 4.3): local headers, central directory, end. */
export function zipOf(files: Record<string, string | Uint8Array>): Buffer {
  const parts: Buffer[] = [];
  const directory: Buffer[] = [];
  let offset = 0;
  for (const [name, content] of Object.entries(files)) {
    const plain = Buffer.from(content as Uint8Array);
    const packed = deflateRawSync(plain);
    const fields = Buffer.alloc(26);
    fields.writeUInt16LE(20, 0);
    fields.writeUInt16LE(8, 4);
    fields.writeUInt32LE(crc32(plain), 10);
    fields.writeUInt32LE(packed.length, 14);
    fields.writeUInt32LE(plain.length, 18);
    fields.writeUInt16LE(Buffer.byteLength(name), 22);
    const local = Buffer.concat([Buffer.from('PK\u0003\u0004'), fields, Buffer.from(name), packed]);
    const place = Buffer.alloc(14);
    place.writeUInt32LE(offset, 10);
    directory.push(
      Buffer.concat([Buffer.from('PK\u0001\u0002'), Buffer.from([20, 0]), fields, place, Buffer.from(name)]),
    );
    parts.push(local);
    offset += local.length;
  }
  const central = Buffer.concat(directory);
  const end = Buffer.alloc(22);
  end.write('PK\u0005\u0006', 'latin1');
  end.writeUInt16LE(directory.length, 8);
  end.writeUInt16LE(directory.length, 10);
  end.writeUInt32LE(central.length, 12);
  end.writeUInt32LE(offset, 16);
  return Buffer.concat([...parts, central, end]);
}

const escaped = (text: string) => text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');

/** Serial day numbers of a spreadsheet count from 1899-12-30 (ECMA-376, 18.17.4.1). */
const serial = (date: Date) => date.getTime() / 86_400_000 + 25_569;

function cellXml(cell: SheetCell, reference: string): string {
  if (cell === null) return '';
  if (typeof cell === 'string')
    return `<c r="${reference}" t="inlineStr"><is><t xml:space="preserve">${escaped(cell)}</t></is></c>`;
  if (typeof cell === 'number') return `<c r="${reference}"><v>${cell}</v></c>`;
  if (typeof cell === 'boolean') return `<c r="${reference}" t="b"><v>${cell ? 1 : 0}</v></c>`;
  if (cell instanceof Date) return `<c r="${reference}" s="1"><v>${serial(cell)}</v></c>`;
  const type = typeof cell.value === 'string' ? ' t="str"' : '';
  return `<c r="${reference}"${type}><f>${escaped(cell.formula)}</f><v>${escaped(String(cell.value))}</v></c>`;
}

/** Column of a cell by letter; 26 are enough here. */
const letter = (index: number) => String.fromCharCode(65 + index);

export function sheetXml(rows: readonly (readonly SheetCell[])[], merged = ''): string {
  const body = rows.map((cells, row) => {
    const written = cells.map((cell, column) => cellXml(cell, `${letter(column)}${row + 1}`)).join('');
    return written === '' ? '' : `<row r="${row + 1}">${written}</row>`;
  });
  const merges = merged === '' ? '' : `<mergeCells count="1"><mergeCell ref="${merged}"/></mergeCells>`;
  return `${XML}<worksheet xmlns="${MAIN}"><sheetData>${body.join('')}</sheetData>${merges}</worksheet>`;
}

const XML = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>';
const MAIN = 'http://schemas.openxmlformats.org/spreadsheetml/2006/main';
const DOCUMENT = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships';
const PACKAGE = 'http://schemas.openxmlformats.org/package/2006';

/** A workbook (ECMA-376) of sheets by name, each as its XML. */
export function workbookOf(sheets: Record<string, string>): Buffer {
  const names = Object.keys(sheets);
  const entry = (name: string, index: number) =>
    `<sheet name="${escaped(name)}" sheetId="${index + 1}" r:id="rId${index + 1}"/>`;
  const relation = (id: string, type: string, target: string) =>
    `<Relationship Id="${id}" Type="${DOCUMENT}/${type}" Target="${target}"/>`;
  const relations = names.map((_, index) =>
    relation(`rId${index + 1}`, 'worksheet', `worksheets/sheet${index + 1}.xml`),
  );
  const overrides = names.map(
    (_, index) =>
      `<Override PartName="/xl/worksheets/sheet${index + 1}.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/>`,
  );
  return zipOf({
    '[Content_Types].xml': `${XML}<Types xmlns="${PACKAGE}/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/><Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/>${overrides.join('')}<Override PartName="/xl/styles.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.styles+xml"/></Types>`,
    '_rels/.rels': `${XML}<Relationships xmlns="${PACKAGE}/relationships">${relation('rId1', 'officeDocument', 'xl/workbook.xml')}</Relationships>`,
    'xl/workbook.xml': `${XML}<workbook xmlns="${MAIN}" xmlns:r="${DOCUMENT}"><sheets>${names.map(entry).join('')}</sheets></workbook>`,
    'xl/_rels/workbook.xml.rels': `${XML}<Relationships xmlns="${PACKAGE}/relationships">${relations.join('')}${relation('rIdS', 'styles', 'styles.xml')}</Relationships>`,
    'xl/styles.xml': `${XML}<styleSheet xmlns="${MAIN}"><cellXfs count="2"><xf numFmtId="0"/><xf numFmtId="22" applyNumberFormat="1"/></cellXfs></styleSheet>`,
    ...Object.fromEntries(names.map((name, index) => [`xl/worksheets/sheet${index + 1}.xml`, sheets[name]!])),
  });
}
