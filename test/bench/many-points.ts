/** A point file of any length: the points of the conforming sample disc, each repeated with some jitter, in the same order. */
import { once } from 'node:events';
import { createWriteStream, readFileSync } from 'node:fs';
import { finished } from 'node:stream/promises';
import { fileURLToPath } from 'node:url';

/** Half-width of the jitter, mm: some of the form error of a milled face. */
const JITTER = 0.002;

export const manyPointsPlan = fileURLToPath(
  new URL('../../sample-data/conforming/plan.json', import.meta.url),
);

export async function writeManyPoints(file: string, rows: number, normals: boolean): Promise<void> {
  const sample = new URL('../../sample-data/conforming/points.csv', import.meta.url);
  const [, ...points] = readFileSync(sample, 'utf8').trim().split('\n');
  let state = 1;
  // A linear congruential generator (Park and Miller, 1988) is random enough for jitter.
  const jitter = (): number => {
    state = (state * 48271) % 2147483647;
    return JITTER * ((2 * state) / 2147483647 - 1);
  };
  const out = createWriteStream(file);
  out.write(normals ? 'station,feature,x,y,z,i,j,k\n' : 'station,feature,x,y,z\n');
  for (let index = 0; index < points.length; index += 1) {
    const [station, feature, x, y, z, ...normal] = points[index]?.split(',') ?? [];
    const from = Math.round((index * rows) / points.length);
    const to = Math.round(((index + 1) * rows) / points.length);
    let text = '';
    for (let copy = from; copy < to; copy += 1) {
      const place = [x, y, z].map((value) => (Number(value) + jitter()).toFixed(5));
      text += `${[station, feature, ...place, ...(normals ? normal : [])].join(',')}\n`;
    }
    if (!out.write(text)) await once(out, 'drain');
  }
  out.end();
  await finished(out);
}
