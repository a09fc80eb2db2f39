/** What the report says in each case: all conforming, missing stations, a second level, characteristics, causes, exclusions. */
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import type { ReducedDisc } from '../../src-main/api.ts';
import { runReduction } from '../../src-main/jobs/run-reduction.ts';
import { reportHtml } from '../../src-main/report/index.ts';
import { languages } from '../../src-main/report/messages/languages.ts';
import { messagesIn } from '../../src-main/report/messages/messages.ts';
import { exampleDiagnosis } from '../support/example-diagnosis.ts';
import { exampleDisc, exampleDiscOfTwoLevels } from '../support/example-disc.ts';
import { readPdf, squeezed } from '../support/pdf-text.ts';
import { inputOf, reduceSample, reportOf, wordsOf } from '../support/reports.ts';

const conforming = await reduceSample('conforming');
const drifting = await reduceSample('drifting');

/** The words of the HTML: those of the PDF (see report-html.test.ts), read faster. */
async function textOf(disc: ReducedDisc, options: Parameters<typeof inputOf>[1] = {}): Promise<string> {
  return wordsOf(reportHtml(inputOf(disc, options)));
}

function withCharacteristics(
  disc: ReducedDisc,
  characteristics: ReducedDisc['plan']['details']['characteristics'],
) {
  return { ...disc, plan: { ...disc.plan, details: { ...disc.plan.details, characteristics } } };
}

describe('a disc that conforms', async () => {
  const text = await textOf(conforming);

  it('is said to, and has no station pages', () => {
    expect(text).toContain('Conforming All 18 planned stations were reduced and conform.');
    expect(text).toContain('Every station conforms; there is none to show here.');
    expect(text).not.toMatch(/Station \d+: /);
  });

  it('carries the statements that no report may lack', () => {
    for (const words of [
      'carried to the check point',
      'between the datum features was not measured',
      'least squares (Gaussian). A drawing may ask for another criterion',
      'regardless of feature size',
      'approved inspection authority govern',
      'Verify the method on your own artefacts',
      'Measured by',
      'U is the expanded uncertainty at a coverage probability of 95 %',
      'Rule: simple.',
    ])
      expect(text).toContain(words);
  });

  it('says that no row was left out and that there were no warnings', () => {
    expect(text).toContain('Rows read: 1552. Points used: 1552. Rows left out: 0. No row was left out.');
    expect(text).toContain('There were no warnings.');
  });
});

describe('a disc with a missing station and unproven ones', async () => {
  const text = await textOf(drifting);

  it('is incomplete, with the reason', () => {
    expect(text).toContain('Incomplete Of 16 planned stations, 12 conform, 3 are not proven, 1 is missing.');
    expect(text).toContain('12 The file has no points of this station.');
  });

  it('says what would settle each unproven station', () => {
    for (const { station, position } of drifting.result.stations.filter(
      ({ verdict }) => verdict === 'unproven',
    )) {
      expect(text).toContain(`Station ${station}: not proven`);
      expect(text).toContain(`Position: ${squeezed(position.settle ?? 'nothing')}`);
    }
  });

  it('accounts for the missing station in every characteristic', () => {
    const requirements = 2 + Object.keys(drifting.plan.limits).length;
    expect(text.match(/not measured – missing/g)).toHaveLength(requirements);
    expect(
      text.match(/Lateral – The file has no points of this station\. ±30\.0 µm not measured/g),
    ).toHaveLength(1);
  });

  it('counts all rows of the accountability by their outcome', () => {
    const { stations, summary } = drifting.result;
    const rows = stations.flatMap(({ position, limits }) => [...position.checkPoints, ...limits]);
    const requirements = 2 + Object.keys(drifting.plan.limits).length;
    const count = (verdict: string) => rows.filter((row) => row.verdict === verdict).length;
    const missing = summary.missing.length * requirements;
    expect(text).toContain(
      `Requirements of the table, by outcome Outcome Number ✓ conforming ${count('conforming')} × nonconforming ${count('nonconforming')} ? not proven ${count('unproven')} Not measured ${missing} total ${rows.length + missing}`,
    );
  });

  it('counts and lists the points left out', () => {
    const { excluded, rows, used } = drifting.result.source.points;
    expect(excluded.length).toBe(4);
    expect(text).toContain(`Rows read: ${rows}. Points used: ${used}. Rows left out: 4.`);
    expect(text).toContain(`4 ${excluded.map(({ line }) => line).join(', ')}`);
  });

  it('lists forty lines of a reason and counts the rest', async () => {
    const excluded = Array.from({ length: 95 }, (_, i) => ({
      line: 1000 + i,
      reason: 'excluded by hand: burr',
    }));
    const points = { ...drifting.result.source.points, excluded };
    const many = { ...drifting.result, source: { ...drifting.result.source, points } };
    const shown = await textOf({ ...drifting, result: many });
    expect(shown).toContain('excluded by hand: burr 95 1000, 1001, 1002');
    expect(shown).toContain('1038, 1039 and 55 more');
    expect(shown).not.toContain('1040');
  });
});

describe('a station without any known uncertainty', () => {
  it('is reported with dashes, and the report says that nothing is known', async () => {
    const stations = conforming.result.stations.map((station) => ({
      ...station,
      uncertainty: null,
      covariance: null,
      position: {
        ...station.position,
        expanded: null,
        probability: null,
        checkPoints: station.position.checkPoints.map((point) => ({
          ...point,
          expanded: null,
          probability: null,
          covariance: null,
        })),
      },
      limits: station.limits.map((limit) => ({ ...limit, expanded: null, probability: null })),
    }));
    const text = await textOf({ ...conforming, result: { ...conforming.result, stations } });
    expect(text).toContain('Nothing is known of the uncertainty of these values');
    expect(text).not.toContain('Where the uncertainty of position comes from');
    expect(text).not.toMatch(/NaN|undefined|null|Infinity/);
  });
});

describe('the second level of position', () => {
  it('is absent where the plan asks for one level', async () => {
    expect(await textOf(conforming)).not.toContain('Position of the blades relative to each other');
  });

  it('has its own section, its characteristic, and counts for the disc', async () => {
    const disc = exampleDiscOfTwoLevels();
    const text = await textOf(disc);
    const { pattern } = disc.result;
    expect(text).toContain(`Position of the blades relative to each other: ${says(pattern?.verdict)}.`);
    expect(text).toContain('Motion of the pattern of zones against the hub frame');
    expect(text).toContain('Position relative to each other ≤ ');
  });
});

describe('an association', () => {
  it('is stated with its weights and with what a screen leaves out', async () => {
    const { plan } = conforming;
    const hubDatums = plan.details.hubDatums.map((datum, i) => ({
      ...datum,
      weights: i === 0 ? ('sigma' as const) : datum.weights,
      screenExcludes: i === 1,
    }));
    const text = await textOf({
      ...conforming,
      plan: { ...plan, details: { ...plan.details, hubDatums } },
    });
    expect(text.match(/least squares \(Gaussian\), weighted by 1\/σ² from the file/g)).toHaveLength(1);
    expect(text.match(/\(Gaussian\), without the points that the robust screen flags/g)).toHaveLength(1);
    expect(await textOf(conforming)).not.toContain('weighted by 1/σ²');
  });
});

describe('a best fit', () => {
  it('is by least squares, whatever criterion the features have', async () => {
    const { plan } = drifting;
    expect(plan.pose).toBe('bestfit');
    const outer = { association: 'gaussian-outer' as const };
    const text = await textOf({
      ...drifting,
      plan: {
        ...plan,
        details: {
          ...plan.details,
          hubDatums: plan.details.hubDatums.map((datum) => ({ ...datum, ...outer })),
          bladeDatums: plan.details.bladeDatums.map((datum) => ({ ...datum, ...outer })),
        },
      },
    });
    expect(text).toContain(
      'by: least squares, moved to the outermost point of the material and least squares (Gaussian).',
    );
    expect(text.match(/fitted together with the others by least squares/g)).toHaveLength(4);
    // Of precedence there is word under the hub's datums alone.
    expect(text.match(/In order of precedence/g)).toHaveLength(1);
    expect(text.indexOf('In order of precedence')).toBeLessThan(text.indexOf('Blade datums'));
    const byDatums = await textOf(conforming);
    expect(byDatums.indexOf('In order of precedence')).toBeGreaterThan(byDatums.indexOf('Blade datums'));
  });
});

describe('stations with values of their own', () => {
  it('state the seat, the check points and the limits that they were held against', async () => {
    const folder = fileURLToPath(
      new URL('../validation/independent/discs/18-zones-overrides/', import.meta.url),
    );
    const disc = await runReduction({
      pointsPath: `${folder}points.csv`,
      planPath: `${folder}plan.json`,
    });
    const text = await textOf(disc);
    expect(text).toContain('Stations with values of their own');
    expect(text).toContain('2 radius 241.5 mm, axial 14 mm, height angle 5°, stagger angle 39.5°');
    expect(text).toContain('7 radius 240 mm, axial 15 mm, height angle 6°, stagger angle 38°');
    expect(text).toContain('edge (20, 5, 100) width 500.0 µm, n = (0.6, 0.8, 0)');
    expect(text).toMatch(/4 radius [^;]+;[^;]+;[^;]+upset 4\.0 µm, radial 10\.0 µm, lean 82\.5″/);
    expect(await textOf(conforming)).not.toContain('of their own');
  });
});

describe('the plan’s characteristics', () => {
  it('each appear with their number, and what is not measured is said to be', async () => {
    const text = await textOf(
      withCharacteristics(conforming, [
        { number: '12', reference: 'Sheet 2, C4', quantity: 'position', requirement: '⌀ 0.05 A B C' },
        { number: '13', reference: '', quantity: 'Upset, station 7', requirement: '' },
        { number: '14', reference: 'Sheet 2, D1', quantity: 'surface roughness', requirement: 'Ra 0.8' },
      ]),
    );
    expect(text).not.toContain('The plan lists no characteristics.');
    expect(text.match(/12 Sheet 2, C4 \d+ Position ⌀ 0\.05 A B C \(≤ 50\.0 µm\)/g)).toHaveLength(18);
    expect(text.match(/ 13 7 Upset ±50\.0 µm /g)).toHaveLength(1);
    expect(text).toContain(
      '14 Sheet 2, D1 surface roughness: not determined by this measurement, account for it elsewhere Ra 0.8',
    );
    // The check points are accounted for by "position"; the limits that have no number follow without one.
    expect(text).not.toContain('Position, tip');
    expect(text.match(/ – \d+ Lateral ±25\.0 µm /g)).toHaveLength(18);
  });

  it('of a single station leave no other station unaccounted for', async () => {
    const text = await textOf(
      withCharacteristics(conforming, [
        { number: '13', reference: '', quantity: 'lateral, station 7', requirement: '' },
        { number: '14', reference: '', quantity: 'position station 2', requirement: '' },
      ]),
    );
    expect(text.match(/ 13 7 Lateral /g)).toHaveLength(1);
    expect(text.match(/ – \d+ Lateral /g)).toHaveLength(17);
    expect(text).not.toContain(' – 7 Lateral ');
    expect(text.match(/ 14 2 Position ≤/g)).toHaveLength(1);
    for (const point of ['root', 'tip']) {
      expect(text.match(new RegExp(` – \\d+ Position, ${point} `, 'g'))).toHaveLength(17);
      expect(text).not.toContain(` – 2 Position, ${point} `);
    }
  });

  it('mean the same in whatever language plan and report are', async () => {
    const quantities = [
      ['Position, tip', 'Localisation tip', 'position at tip'],
      [
        'rotation about upset',
        'Drehung um Stauchrichtung',
        'rotation autour de l’axe de refoulement',
        'rotUpset',
      ],
      ['upset', 'Stauchrichtung, Station 7', 'refoulement station 7'],
    ].flat();
    for (const language of languages) {
      const text = await textOf(
        withCharacteristics(
          conforming,
          quantities.map((quantity, i) => ({
            number: `B${i + 1}`,
            reference: '',
            quantity,
            requirement: '',
          })),
        ),
        { language },
      );
      expect(text).not.toContain(messagesIn(language).characteristics.elsewhere);
      expect(quantities.map((_, i) => text.match(new RegExp(` B${i + 1} \\d+ `, 'g'))?.length)).toEqual([
        18, 18, 18, 18, 18, 18, 18, 18, 1, 1,
      ]);
    }
  });

  it('may name a check point', async () => {
    const text = await textOf(
      withCharacteristics(conforming, [
        { number: '1', reference: '', quantity: 'Position tip', requirement: '' },
      ]),
    );
    expect(text.match(/ 1 \d+ Position, tip /g)).toHaveLength(18);
    expect(text.match(/ – \d+ Position, root /g)).toHaveLength(18);
  });
});

describe('causes', () => {
  const diagnosed = (() => {
    const disc = exampleDisc();
    return { ...disc, result: { ...disc.result, diagnosis: exampleDiagnosis(disc) } };
  })();

  it('are engineering information, in the words of the language, made from the numbers', async () => {
    const text = await textOf(diagnosed, { language: 'de' });
    const { diagnosis } = diagnosed.result;
    expect(text).toContain('Technische Information Dieser Abschnitt ist nicht Teil der Konformitätsaussage.');
    expect(text).toContain('Führender Anteil: Versatz und Kippung des Rings. Allein');
    for (const { sentence } of diagnosis.components) expect(text).not.toContain(sentence);
    for (const sentence of diagnosis.sentences) expect(text).not.toContain(sentence);
    const ring = diagnosis.components.find(({ name }) => name === 'ringShift');
    expect(text).toContain(`${((ring?.size?.value ?? 0) * 1000).toFixed(1).replace('.', ',')} µm`);
    for (const { before, after } of diagnosis.corrections)
      for (const value of [before, after])
        expect(text).toContain((1000 * value).toFixed(1).replace('.', ','));
  });

  it('give a parameter as many digits as two significant ones of its uncertainty need', async () => {
    const text = await textOf(drifting);
    const wear = drifting.result.diagnosis?.components.find(({ name }) => name === 'wear');
    const [along] = wear?.parameters ?? [];
    const micrometres = ({ value, low, high }: { value: number; low: number; high: number }) => {
      const half = 500 * (high - low);
      const decimals = half >= 9.95 ? 0 : half >= 0.995 ? 1 : 2;
      return [value, low, high].map((of) => (1000 * of).toFixed(decimals).replace('-', '−'));
    };
    const [value, low, high] = micrometres(along ?? { value: 0, low: 0, high: 0 });
    expect(value).toMatch(/\.\d\d$/);
    expect(text).toContain(`Oscillation ${value} µm per weld ${low} … ${high} µm`);
  });

  it('count the stations that a correction says nothing of as they were measured', async () => {
    const { diagnosis, stations } = drifting.result;
    const [correction] = diagnosis?.corrections ?? [];
    if (diagnosis === null || correction === undefined) throw new Error('no correction');
    const conform = (list: readonly { readonly station: number; readonly verdict: string }[]) =>
      list.flatMap(({ station, verdict }) => (verdict === 'conforming' ? [station] : []));
    const asMeasured = new Set(conform(stations));
    const untold = conform(correction.predicted).find((station) => asMeasured.has(station));
    const told = {
      ...correction,
      conforming: correction.conforming - 1,
      predicted: correction.predicted.filter(({ station }) => station !== untold),
    };
    expect(told.predicted).toHaveLength(correction.predicted.length - 1);
    const result = { ...drifting.result, diagnosis: { ...diagnosis, corrections: [told] } };
    const count = new RegExp(`\\D${correction.conforming}\\s/\\s${drifting.plan.stations.length}\\D`);
    expect(await textOf({ ...drifting, result })).toMatch(count);
  });

  it.each([
    ['en', '(10 before)', 'Not recommended: fewer stations would conform than before. '],
    ['de', '(vorher 10)', 'Nicht empfohlen: weniger Stationen wären konform als vorher. '],
    ['fr', '(10 avant)', 'Non recommandé : moins de stations seraient conformes qu’avant. '],
  ] as const)(
    'advise against a correction that lets fewer stations conform, in %s',
    async (language, now, words) => {
      const { diagnosis, stations, summary } = drifting.result;
      const [correction] = diagnosis?.corrections ?? [];
      if (diagnosis === null || correction === undefined) throw new Error('no correction');
      const shown = (after: number, chasesNoise = false): Promise<string> => {
        const told = { ...correction, conforming: after, predicted: stationsOf, chasesNoise };
        const corrections = [told];
        const result = {
          ...drifting.result,
          summary: { ...summary, conforming: 10 },
          stations: measured,
          diagnosis: { ...diagnosis, corrections },
        };
        return textOf({ ...drifting, result }, { language });
      };
      const measured = stations.map((entry, i) => ({
        ...entry,
        verdict: i < 10 ? ('conforming' as const) : ('nonconforming' as const),
      }));
      const stationsOf = measured.map(({ station }) => ({ ...correction.predicted[0]!, station }));
      const fewer = squeezed(await shown(9));
      expect(fewer).toContain(words);
      expect(fewer).toContain(`9 / ${drifting.plan.stations.length} ${now}`);
      const advice = words.slice(0, words.indexOf(':')).trim();
      expect(squeezed(await shown(10))).not.toContain(advice);
      expect(squeezed(await shown(11, true))).toContain(advice);
    },
  );

  it('give the index correction as an angle of each station, beside its deviation and interval', async () => {
    const text = await textOf(drifting);
    const { corrections = [], index } = drifting.result.diagnosis ?? {};
    const found = corrections.filter(({ settings }) => settings.some(({ kind }) => kind === 'index'));
    expect(found.map(({ kind }) => kind)).toEqual(['index', 'all']);
    const arcSeconds = (radians: number, decimals: number) =>
      `${((radians * 180 * 3600) / Math.PI)
        .toFixed(decimals)
        .replace(/^-(?=0\.?0*$)/, '')
        .replace('-', '−')}`;
    for (const { station, deviation } of index?.stations ?? []) {
      const changes = found.map(({ settings }) => {
        const change = settings.find(({ kind, of }) => kind === 'index' && of === String(station))?.change;
        return `${arcSeconds(change ?? 0, 1)}″`;
      });
      const [value, low, high] = [deviation.value, deviation.low, deviation.high].map((of) =>
        arcSeconds(of, 0),
      );
      expect(text).toContain(`${station} ${value}″ ${low} … ${high}″ ${changes.join(' ')}`);
    }
    expect(index?.stations).toHaveLength(15);
  });

  it('tell the displacement of a check point from the position in its zone', async () => {
    const text = await textOf(drifting);
    const wear = drifting.result.diagnosis?.components.find(({ name }) => name === 'wear');
    const [half, position] = [(wear?.size?.value ?? 0) / 2, wear?.consumed ?? 0].map((mm) =>
      (1000 * mm).toFixed(1),
    );
    expect(text).toContain(`Alone it displaces a check point by up to ${half} µm (`);
    expect(text).toContain(`and uses up to ${position} µm of position in the zone of the plan.`);
  });

  it.each([
    ['en', 'Not examined (tool change and wear over the weld sequence): no welds file was given.'],
    [
      'de',
      'Nicht untersucht (Werkzeugwechsel und Verschleiß über die Schweißfolge): Es wurde kein Schweißprotokoll angegeben.',
    ],
    [
      'fr',
      'Non examinées (changement d’outil et usure au fil des soudures) : aucun relevé des soudures n’a été fourni.',
    ],
  ] as const)('that were not examined have their reason in %s', async (language, words) => {
    expect(await textOf(diagnosed, { language })).toContain(words);
    expect(await textOf(drifting, { language })).not.toContain(words.slice(0, words.indexOf('(')));
  });

  it('that were not examined keep the recorded reason where a result has no code for it', async () => {
    const { diagnosis } = diagnosed.result;
    const components = diagnosis.components.map(({ notExaminedNote: _, ...component }) => component);
    const earlier = {
      ...diagnosed,
      result: { ...diagnosed.result, diagnosis: { ...diagnosis, components } },
    };
    const text = await textOf(earlier, { language: 'de' });
    expect(text).toContain(
      'Nicht untersucht (Werkzeugwechsel und Verschleiß über die Schweißfolge): no welds file',
    );
  });

  it('are absent where nothing was diagnosed', async () => {
    const disc = exampleDisc();
    const text = await textOf({ ...disc, result: { ...disc.result, diagnosis: null } });
    expect(text).not.toContain('Causes and corrections');
    expect(await textOf(diagnosed)).toContain('Causes and corrections');
  });
});

describe('errors without a limit', () => {
  it('are marked as such among those held against one', async () => {
    const [first, ...others] = drifting.result.stations.filter(({ verdict }) => verdict === 'unproven');
    const bare = { ...first!, limits: first!.limits.filter(({ name }) => name !== 'rotUpset') };
    const stations = drifting.result.stations.map((s) => (s === first ? bare : s));
    const text = await textOf({ ...drifting, result: { ...drifting.result, stations } });
    expect(text.match(/Rotation about upset −?\d+\.\d″ no limit stated \d+\.\d″/g)).toHaveLength(1);
    expect(others.length).toBeGreaterThan(0);
  });
});

describe('units and names', () => {
  it('follow the length that is asked for', async () => {
    const worst = conforming.result.summary.worst?.position ?? 0;
    expect(await textOf(conforming, { length: 'mm' })).toContain(`Largest position ${worst.toFixed(4)} mm`);
    expect(await textOf(conforming, { length: 'inch' })).toContain(`${(worst / 25.4).toFixed(6)} inch`);
  });

  it('say where the plan states nothing', async () => {
    const disc = {
      ...conforming,
      plan: { ...conforming.plan, part: {}, inspection: {}, title: '' },
      welds: null,
    };
    const text = await textOf(disc);
    expect(text.match(/not stated/g)?.length).toBe(11);
    expect(text).toContain('Weld record none given');
    const { pages } = await readPdf((await reportOf(disc)).pdf);
    expect(pages[0]?.lines[0]).toBe('points.csv Conformance report');
  });
});

function says(verdict: string | undefined): string {
  return verdict === 'unproven' ? 'not proven' : (verdict ?? 'none');
}
