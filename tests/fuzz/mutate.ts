import { gzipSync } from 'node:zlib';
import { createRandom } from '../../etl/stats/random.ts';
import type { Sample } from './valid-samples.ts';

/** A damaged file: which sample it was made of, and its bytes; `text` is what they unpack to, null where nothing does. */
export type Input = { sample: Sample; bytes: Buffer; text: Buffer | null; headerKept: boolean };

type Draw = {
  /** A whole number in [0, below). */
  below: (below: number) => number;
  among: <Value>(values: readonly Value[]) => Value;
  chance: (share: number) => boolean;
};

/** Texts that readers stumble over. */
const FRAGMENTS = [
  '"',
  '""',
  '"\n',
  ',',
  ',,,,,,,,',
  ';',
  '\t',
  '\n',
  '\r\n',
  '\r',
  '\0',
  '\0\0\0\0\0\0\0\0',
  '\uFEFF',
  '\u00ff\u00fe',
  '99999999999999999999999999',
  '-1e309',
  '1e400',
  'NaN',
  'Infinity',
  '0x1F',
  '-',
  '.',
  '1,234.5',
  '2024-02-30T25:61:61Z',
  '0000-00-00T00:00:00Z',
  '9999-12-31T23:59:60Z',
  '1969-12-31T23:59:59.999999999Z',
  '(9999999999.999999) can0 18FEF700#',
  '##',
  'DROPCOUNT: dropped',
  '{"a":',
  '}',
  '[[[[[[[[',
  'PAR1',
  'ARROW1',
  'PK\u0003\u0004',
  '\u001f\u008b\u0008',
  '__proto__',
  'constructor',
  '=1+1',
  '<?xml',
  "'; drop table units; --",
  '../../etc/passwd',
];
const LONG_LINE_SHARE = 0.004;

/** The damaged file of this number: the same for the same seed, whatever ran before. */
export function damagedInput(samples: readonly Sample[], seed: number, index: number): Input {
  const random = createRandom(seed, `input ${index}`);
  const below = (limit: number) => Math.floor(random.uniform() * limit);
  const draw: Draw = {
    below,
    among: (values) => values[below(values.length)]!,
    chance: (share) => random.uniform() < share,
  };
  const sample = weighted(samples, random.uniform());
  const headerEnd = sample.rows === 'below_header' ? sample.bytes.indexOf(10) + 1 : 0;
  const headerKept = draw.chance(0.7);
  const from = headerKept ? headerEnd : 0;
  const zippedFirst = sample.gzip && draw.chance(0.5);
  const start = zippedFirst ? gzipSync(sample.bytes) : sample.bytes.subarray(from);
  let damaged: Buffer = Buffer.from(start);
  for (let times = 1 + below(4); times > 0; times--) damaged = damage(damaged, draw, samples);
  if (zippedFirst) return { sample, bytes: damaged, text: null, headerKept };
  const text = Buffer.concat([sample.bytes.subarray(0, from), damaged]);
  return { sample, bytes: sample.gzip ? gzipSync(text) : text, text, headerKept };
}

function weighted(samples: readonly Sample[], share: number): Sample {
  let left = share * samples.reduce((sum, { weight }) => sum + weight, 0);
  return samples.find(({ weight }) => (left -= weight) < 0) ?? samples.at(-1)!;
}

type Damage = (bytes: Buffer, draw: Draw, samples: readonly Sample[]) => Buffer;

const DAMAGES: readonly Damage[] = [
  function flipBits(bytes, { below }) {
    for (let times = 1 + below(6); times > 0 && bytes.length > 0; times--) bytes[below(bytes.length)]! ^= 1 << below(8);
    return bytes;
  },
  function setBytes(bytes, { below }) {
    for (let times = 1 + below(6); times > 0 && bytes.length > 0; times--) bytes[below(bytes.length)] = below(256);
    return bytes;
  },
  (bytes, { below }) => bytes.subarray(0, below(bytes.length + 1)),
  function deletePiece(bytes, { below }) {
    const at = below(bytes.length + 1);
    return Buffer.concat([bytes.subarray(0, at), bytes.subarray(at + 1 + below(200))]);
  },
  function repeatPiece(bytes, { below }) {
    const at = below(bytes.length + 1);
    const piece = bytes.subarray(at, at + 1 + below(200));
    return insert(bytes, at, Buffer.concat(Array.from({ length: 1 + below(5) }, () => piece)));
  },
  function splice(bytes, { below, among }, samples) {
    const other = among(samples).bytes;
    const from = below(other.length);
    return insert(bytes, below(bytes.length + 1), other.subarray(from, from + 1 + below(600)));
  },
  function swapPieces(bytes, { below }) {
    const [first, second] = [below(bytes.length + 1), below(bytes.length + 1)].sort((a, b) => a - b) as [
      number,
      number,
    ];
    const length = Math.min(below(100), second - first);
    const [a, b] = [bytes.subarray(first, first + length), bytes.subarray(second, second + length)];
    return Buffer.concat([
      bytes.subarray(0, first),
      b,
      bytes.subarray(first + length, second),
      a,
      bytes.subarray(second + length),
    ]);
  },
  function insertText(bytes, { below, among }) {
    const spelled = among(['utf8', 'latin1'] as const);
    return insert(bytes, below(bytes.length + 1), Buffer.from(among(FRAGMENTS), spelled));
  },
  function replaceNumber(bytes, { below, among }) {
    const text = bytes.toString('latin1');
    const numbers = [...text.matchAll(/\d+/g)];
    const hit = numbers[below(numbers.length)];
    if (hit === undefined) return bytes;
    const value = among(['', '0', '-1', '9'.repeat(400), '1e308', '0.0000000000000000001', '4294967296', ' 7 ']);
    return Buffer.from(text.slice(0, hit.index) + value + text.slice(hit.index + hit[0].length), 'latin1');
  },
  (bytes, { below }) =>
    insert(bytes, below(bytes.length + 1), Buffer.from(Array.from({ length: 64 }, () => below(256)))),
  function otherEncoding(bytes, { chance }) {
    if (!chance(0.15)) return bytes;
    const wide = Buffer.from(`\uFEFF${bytes.toString('latin1')}`, 'utf16le');
    return chance(0.5) ? wide : wide.swap16();
  },
  function otherLineEnds(bytes, { among, chance }) {
    if (!chance(0.3)) return bytes;
    return Buffer.from(bytes.toString('latin1').replaceAll('\n', among(['\r\n', '\r', '\n\n'])), 'latin1');
  },
  function manyColumns(bytes, { below, among, chance }) {
    if (!chance(0.1)) return bytes;
    return insert(bytes, below(bytes.length + 1), Buffer.from(among([',', '"",', ';', '{', ' ']).repeat(20_000)));
  },
];

function damage(bytes: Buffer, draw: Draw, samples: readonly Sample[]): Buffer {
  if (draw.chance(LONG_LINE_SHARE)) {
    const filling = draw.among(['x', '"', '9', ' ', '\0', 'A,']);
    return insert(bytes, draw.below(bytes.length + 1), Buffer.from(filling.repeat(70_000 + draw.below(1_500_000))));
  }
  return draw.among(DAMAGES)(bytes, draw, samples);
}

function insert(bytes: Buffer, at: number, piece: Buffer): Buffer {
  return Buffer.concat([bytes.subarray(0, at), piece, bytes.subarray(at)]);
}
