import { Translator, type Translation } from './delimited-translator.ts';
import { NEWLINE, unixLineEnds } from '../bytes/line-ends.ts';
import type { ByteStream } from '../reader.ts';

/**
 * Rows of a foreign text → the same rows as a file with the contract's columns would write them, header first, in one
 * pass and bounded memory. Each line of the file is one line here, so that lines count alike; a row that the mapping
 * cannot use goes to `onSetAside` and leaves blank lines.
 */
export async function* contractText(bytes: ByteStream, translation: Translation): ByteStream {
  const translator = new Translator(translation);
  const { window, out } = translator;
  yield Buffer.from(`${translation.mapping.fields.join(',')}\n`);
  for await (const chunk of linesFrom(unixLineEnds(bytes), translation.dataLine))
    for (let from = 0; from < chunk.length;) {
      from += window.append(from === 0 ? chunk : chunk.subarray(from));
      yield* translated();
    }
  window.ended = true;
  yield* translated();

  async function* translated(): ByteStream {
    for (let more = true; more;) {
      more = translator.rows();
      if (translator.refused.length > 0) await translation.onSetAside(translator.refused.splice(0));
      if (out.length > 0) yield out.bytes.subarray(0, out.length);
      out.length = 0;
    }
  }
}

/** The text from a line on. */
async function* linesFrom(bytes: ByteStream, line: number): ByteStream {
  let passing = line - 1;
  for await (const chunk of bytes) {
    let from = 0;
    while (passing > 0 && from >= 0 && from < chunk.length) {
      const newline = chunk.indexOf(NEWLINE, from);
      from = newline < 0 ? chunk.length : newline + 1;
      if (newline >= 0) passing--;
    }
    if (from < chunk.length) yield from === 0 ? chunk : chunk.subarray(from);
  }
}
