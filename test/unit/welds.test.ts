import { createHash } from 'node:crypto';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { WeldRow } from '../../src-main/api.ts';
import { checkPlan } from '../../src-main/plan/read-plan.ts';
import { toDefinition } from '../../src-main/plan/to-definition.ts';
import { readWelds } from '../../src-main/welds/read-welds.ts';
import { conformingDisc, samplePath, temporaryFolder } from '../support/disc-files.ts';

const definition = toDefinition(checkPlan(JSON.stringify(conformingDisc().plan), 'plan.json'));

async function read(text: string): Promise<readonly WeldRow[]> {
  const path = join(temporaryFolder(), 'welds.csv');
  writeFileSync(path, text);
  return (await readWelds(path, definition)).rows;
}

it('the sample file is read whole', async () => {
  const { name, sha256, rows: welds } = await readWelds(samplePath('conforming', 'welds.csv'), definition);
  expect(name).toBe('welds.csv');
  expect(sha256).toBe(
    createHash('sha256')
      .update(readFileSync(samplePath('conforming', 'welds.csv')))
      .digest('hex'),
  );
  expect(welds).toHaveLength(18);
  expect(welds[0]).toEqual({
    station: 1,
    sequence: 1,
    tool: 'T1',
    date: '2026-03-02',
    values: { burnOff: 5.22, forgeForce: 127.3 },
  });
});

it('columns in any order, semicolons, decimal commas, texts beside', async () => {
  const welds = await read('Tool;Upset [mm];Station;remark;Sequence\nA;5,25;3;good;2\nB;;04;"a; b";1\n');
  expect(welds).toEqual([
    { station: 3, sequence: 2, tool: 'A', date: '', values: { 'Upset [mm]': 5.25 } },
    { station: 4, sequence: 1, tool: 'B', date: '', values: {} },
  ]);
});

describe('faults name line, column, value, expectation and remedy', () => {
  it.each([
    [
      'a missing column',
      'station,sequenze,tool\n1,1,A\n',
      ['line 1', 'column sequence', 'is missing', 'rename "sequenze" to "sequence"'],
    ],
    [
      'an unknown station',
      'station,sequence\n1,1\n19,2\n',
      ['line 3', 'column station', 'found "19"', 'from 1 to 18'],
    ],
    [
      'a station twice',
      'station,sequence\n1,1\n\n1,2\n',
      ['line 4', 'column station', 'line 2 has the same station', 'each station once'],
    ],
    [
      'a sequence twice',
      'station,sequence\n1,1\n2,1\n',
      ['line 3', 'column sequence', 'line 2 has the same sequence'],
    ],
    ['half a sequence', 'station,sequence\n1,1.5\n', ['line 2', 'found "1.5"', 'a whole number']],
    [
      'a text among numbers',
      'station,sequence,upset\n1,1,5.2\n2,2,much\n',
      ['line 3', 'column upset', 'found "much"', 'expected a number'],
    ],
    ['a header alone', 'station,sequence,tool,date\n', ['line 1', 'a header and no welds']],
    ['an empty file', '', ['is empty', 'leave --welds out']],
    ['a spreadsheet', 'PK\u0003\u0004', ['spreadsheet', 'export it as CSV']],
  ])('%s', async (_, text, parts) => {
    const message = await read(text).then(
      () => '',
      (error: Error) => error.message,
    );
    for (const part of ['welds.csv', ...parts]) expect(message).toContain(part);
  });

  it('many of them are cut short and counted', async () => {
    const rows = Array.from({ length: 50 }, (_, n) => `99,${n}\n`).join('');
    await expect(read(`station,sequence\n${rows}`)).rejects.toThrow('and 30 more faults (50 in all)');
  });
});
