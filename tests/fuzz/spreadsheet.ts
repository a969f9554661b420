import { crc32, deflateRawSync } from 'node:zlib';

/** The least that is an XLSX workbook (ECMA-376) of one sheet with texts in the cells. */
export function spreadsheet(rows: readonly (readonly string[])[]): Buffer {
  const xml = (text: string) => text.replaceAll('&', '&amp;').replaceAll('<', '&lt;');
  const cell = (text: string, row: number, at: number) =>
    `<c r="${columnName(at)}${row + 1}" t="inlineStr"><is><t>${xml(text)}</t></is></c>`;
  const sheet = rows.map(
    (cells, row) => `<row r="${row + 1}">${cells.map((text, at) => cell(text, row, at)).join('')}</row>`,
  );
  const main = 'http://schemas.openxmlformats.org/spreadsheetml/2006/main';
  const relations = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships';
  const packages = 'http://schemas.openxmlformats.org/package/2006';
  const head = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>';
  const part = (name: string, type: string) =>
    `<Override PartName="${name}" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.${type}+xml"/>`;
  return zipped({
    '[Content_Types].xml': `${head}<Types xmlns="${packages}/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/>${part('/xl/workbook.xml', 'sheet.main')}${part('/xl/worksheets/sheet1.xml', 'worksheet')}${part('/xl/styles.xml', 'styles')}</Types>`,
    '_rels/.rels': `${head}<Relationships xmlns="${packages}/relationships"><Relationship Id="rId1" Type="${relations}/officeDocument" Target="xl/workbook.xml"/></Relationships>`,
    'xl/workbook.xml': `${head}<workbook xmlns="${main}" xmlns:r="${relations}"><sheets><sheet name="Sheet1" sheetId="1" r:id="rId1"/></sheets></workbook>`,
    'xl/_rels/workbook.xml.rels': `${head}<Relationships xmlns="${packages}/relationships"><Relationship Id="rId1" Type="${relations}/worksheet" Target="worksheets/sheet1.xml"/><Relationship Id="rId2" Type="${relations}/styles" Target="styles.xml"/></Relationships>`,
    'xl/styles.xml': `${head}<styleSheet xmlns="${main}"><cellXfs count="1"><xf numFmtId="0"/></cellXfs></styleSheet>`,
    'xl/worksheets/sheet1.xml': `${head}<worksheet xmlns="${main}"><sheetData>${sheet.join('')}</sheetData></worksheet>`,
  });
}

/** A, B, … Z, AA, … */
function columnName(at: number): string {
  return at < 26
    ? String.fromCharCode(65 + at)
    : columnName(Math.floor(at / 26) - 1) + String.fromCharCode(65 + (at % 26));
}

/** A ZIP archive (APPNOTE 6.3: local headers, central directory, end record). */
function zipped(files: Record<string, string>): Buffer {
  const parts: Buffer[] = [];
  const directory: Buffer[] = [];
  let offset = 0;
  for (const [name, text] of Object.entries(files)) {
    const plain = Buffer.from(text);
    const packed = deflateRawSync(plain);
    const common = Buffer.alloc(26);
    [20, 0, 8, 0, 0x5c21].forEach((value, at) => common.writeUInt16LE(value, 2 * at));
    [crc32(plain), packed.length, plain.length].forEach((value, at) => common.writeUInt32LE(value, 10 + 4 * at));
    common.writeUInt16LE(name.length, 22);
    parts.push(Buffer.from('PK\u0003\u0004'), common, Buffer.from(name), packed);
    const rest = Buffer.alloc(14);
    rest.writeUInt32LE(offset, 10);
    directory.push(Buffer.from('PK\u0001\u0002\u0014\u0000'), common, rest, Buffer.from(name));
    offset += 30 + name.length + packed.length;
  }
  const central = Buffer.concat(directory);
  const end = Buffer.alloc(22);
  end.write('PK\u0005\u0006', 'latin1');
  const count = Object.keys(files).length;
  end.writeUInt16LE(count, 8);
  end.writeUInt16LE(count, 10);
  end.writeUInt32LE(central.length, 12);
  end.writeUInt32LE(offset, 16);
  return Buffer.concat([...parts, central, end]);
}
