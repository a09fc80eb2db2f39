/** `hubtrue reduce` with a made console: exit status and text where the plan asks for two levels of position. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Console } from '../../src-main/hosts/terminal/console.ts';
import { reduceCommand } from '../../src-main/hosts/terminal/reduce-command.ts';
import { samplePath, temporaryFolder, writeDisc } from '../support/disc-files.ts';

interface LooseBlade {
  readonly blade: { readonly position: Record<string, unknown> };
}

/** Reduces a sample disc whose plan also asks for the blades relative to each other. */
async function reduce(
  sample: 'conforming' | 'off-centre',
  featureRelating: object | null,
): Promise<{ status: number; output: string; folder: string }> {
  const plan = JSON.parse(readFileSync(samplePath(sample, 'plan.json'), 'utf8')) as LooseBlade;
  if (featureRelating !== null) plan.blade.position['featureRelating'] = featureRelating;
  const files = writeDisc(readFileSync(samplePath(sample, 'points.csv')), plan);
  let output = '';
  const console: Console = {
    coloured: false,
    output: (text) => {
      output += text;
    },
    error: () => {},
    progress: () => {},
    clearProgress: () => {},
  };
  const out = join(temporaryFolder(), 'out');
  const status = await reduceCommand(
    {
      command: 'reduce',
      points: files.points,
      plan: files.plan,
      welds: undefined,
      out,
      json: false,
      length: 'µm',
      angle: 'arcsec',
    },
    console,
    new AbortController().signal,
  );
  return { status, output, folder: out };
}

describe('the exit status', () => {
  it('is 1 where every blade conforms and their pattern does not', async () => {
    const { status, output } = await reduce('conforming', { tolerance: 0.01 });
    expect(output).toContain('18 stations: 18 conforming, 0 nonconforming.');
    expect(status).toBe(1);
  });

  it('is 0 where the pattern conforms as well, and where the plan does not ask for it', async () => {
    expect((await reduce('conforming', { tolerance: 0.05 })).status).toBe(0);
    expect((await reduce('conforming', null)).status).toBe(0);
  });
});
