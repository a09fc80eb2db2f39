/**
 * A finished PDF file with its small objects gathered in compressed object streams and a cross-reference stream (ISO 32000-1,
 * 7.5.7 and 7.5.8), which the writer cannot make itself. The elements of the logical structure, one for each cell of a table,
 * otherwise outweigh all that is seen on the pages.
 */
import { zlibSync } from 'fflate';

/** In one stream: a reader has to unpack all of them for the sake of one. */
const OBJECTS_TOGETHER = 400;
/** Bytes of a field in the cross-reference stream: type, offset or stream, position in the stream. */
const FIELDS = [1, 4, 2] as const;

interface StoredObject {
  readonly number: number;
  /** As in the file, from its number to `endobj`. */
  readonly whole: Uint8Array;
  /** Between these; null for what contains a stream and must stay as it is. */
  readonly body: Uint8Array | null;
}

/** Where an object is found: at an offset of the file, or as the n-th in an object stream. */
type Place = { readonly offset: number } | { readonly stream: number; readonly nth: number };

/**
 * @param file with a plain cross-reference table, no updates, generations all 0, not encrypted
 * @throws Error where the file is not of this kind
 */
export function withObjectStreams(file: Uint8Array): Uint8Array {
  const { head, objects, trailer } = readFile(file);
  const chunks: Uint8Array[] = [head];
  let length = head.length;
  const places = new Map<number, Place>();
  const write = (number: number, bytes: Uint8Array) => {
    places.set(number, { offset: length });
    chunks.push(bytes);
    length += bytes.length;
  };
  for (const { number, whole, body } of objects) if (body === null) write(number, whole);

  let next = objects.length + 1;
  const small = objects.filter(({ body }) => body !== null).sort((a, b) => a.number - b.number);
  for (let from = 0; from < small.length; from += OBJECTS_TOGETHER) {
    const together = small.slice(from, from + OBJECTS_TOGETHER);
    together.forEach(({ number }, nth) => {
      places.set(number, { stream: next, nth });
    });
    write(next, objectStream(next, together));
    next += 1;
  }

  const start = length;
  places.set(next, { offset: start });
  const table = crossReferences(places, next + 1);
  const entries = `/Type /XRef\n/W [${FIELDS.join(' ')}]\n/Size ${next + 1}\n${trailer}`;
  chunks.push(streamObject(next, entries, table), bytesOf(`startxref\n${start}\n%%EOF\n`));
  return joined(chunks);
}

function readFile(file: Uint8Array): {
  readonly head: Uint8Array;
  readonly objects: readonly StoredObject[];
  readonly trailer: string;
} {
  const text = Buffer.from(file.buffer, file.byteOffset, file.byteLength).toString('latin1');
  const end = /startxref\n(\d+)\n%%EOF\n$/.exec(text.slice(-64));
  const start = Number(end?.[1]);
  const [, table = '', dictionary] =
    /^xref\n0 \d+\n0{10} 65535 f \n((?:\d{10} 00000 n \n)*)trailer\n<<\n([\s\S]*?)\n>>\nstartxref\n/.exec(
      text.slice(start),
    ) ?? [];
  if (end === null || dictionary === undefined)
    throw new Error('The PDF file has no plain cross-reference table.');
  const trailer = dictionary.replace(/^\/Size \d+\n/, '');
  const offsets = table.split('\n').flatMap((entry) => (entry === '' ? [] : [Number(entry.slice(0, 10))]));
  const inOrder = [...offsets.entries()].sort((a, b) => a[1] - b[1]);
  const objects = inOrder.map(([index, offset], i): StoredObject => {
    const until = inOrder[i + 1]?.[1] ?? start;
    const number = index + 1;
    const [open, close] = [`${number} 0 obj\n`, '\nendobj\n'];
    if (!text.startsWith(open, offset) || text.slice(until - close.length, until) !== close)
      throw new Error(`Object ${number} of the PDF file is not where it should be.`);
    const stream = text.endsWith('\nendstream', until - close.length);
    return {
      number,
      whole: file.subarray(offset, until),
      body: stream ? null : file.subarray(offset + open.length, until - close.length),
    };
  });
  return { head: file.subarray(0, inOrder[0]?.[1] ?? start), objects, trailer };
}

/** The numbers of the objects and where each begins, then the objects one behind the other. */
function objectStream(number: number, together: readonly StoredObject[]): Uint8Array {
  let at = 0;
  const index: string[] = [];
  const bodies: Uint8Array[] = [];
  for (const { number: own, body } of together) {
    const bytes = joined([body as Uint8Array, bytesOf('\n')]);
    index.push(`${own} ${at}`);
    bodies.push(bytes);
    at += bytes.length;
  }
  const first = bytesOf(`${index.join(' ')}\n`);
  const entries = `/Type /ObjStm\n/N ${together.length}\n/First ${first.length}`;
  return streamObject(number, entries, joined([first, ...bodies]));
}

function crossReferences(places: ReadonlyMap<number, Place>, size: number): Uint8Array {
  const fields = Array.from({ length: size }, (_, number): readonly [number, number, number] => {
    const place = places.get(number);
    // Number 0 heads the list of free numbers.
    if (place === undefined) return [0, 0, 0xffff];
    return 'offset' in place ? [1, place.offset, 0] : [2, place.stream, place.nth];
  });
  return Uint8Array.from(
    fields.flatMap((entry) =>
      FIELDS.flatMap((bytes, i) =>
        Array.from({ length: bytes }, (_, k) => (entry[i] as number) >>> (8 * (bytes - 1 - k))),
      ),
    ),
  );
}

function streamObject(number: number, entries: string, content: Uint8Array): Uint8Array {
  const packed = zlibSync(content, { level: 9 });
  return joined([
    bytesOf(`${number} 0 obj\n<<\n${entries}\n/Filter /FlateDecode\n/Length ${packed.length}\n>>\nstream\n`),
    packed,
    bytesOf('\nendstream\nendobj\n'),
  ]);
}

function bytesOf(text: string): Uint8Array {
  return Buffer.from(text, 'latin1');
}

function joined(parts: readonly Uint8Array[]): Uint8Array {
  return new Uint8Array(Buffer.concat(parts));
}
