/** Values for every sentence that the result can hold; the type asks for all of them. */
import type {
  FailureCode,
  FailureNote,
  FailureValues,
  Note,
  NoteCode,
  NoteValues,
  RowFaultCode,
  RowFaultNote,
  RowFaultValues,
} from '../../shared-math/notes/notes.ts';

type Examples<Values> = { readonly [C in keyof Values]: readonly Values[C][] };

const failureValues: Examples<FailureValues> = {
  'feature-without-points': [
    { station: 7, feature: 'END', datum: 'F' },
    { station: null, feature: 'END', datum: 'F' },
  ],
  'too-few-points': (
    ['plane', 'line', 'circle', 'sphere', 'cylinder', 'cone', 'point', 'face', 'feature'] as const
  ).flatMap((what) => [
    { what, needed: 1, found: 0 },
    { what, needed: 4, found: 2 },
  ]),
  'too-few-on-faces': [{ needed: 4, found: 3 }],
  degenerate: [
    { what: 'plane', by: null, why: 'same-place' },
    { what: 'normal', by: null, why: 'one-line' },
    { what: 'sphere', by: null, why: 'one-plane' },
    { what: 'circle-plane', by: null, why: 'line-along-direction' },
    { what: 'cone', by: null, why: 'several-around' },
    { what: 'sphere', by: null, why: 'several-out' },
    { what: 'cone', by: null, why: 'no-taper' },
    { what: 'cylinder', by: 'maximum-inscribed', why: 'not-surrounded' },
    { what: 'sphere', by: 'maximum-inscribed', why: 'not-surrounded' },
    { what: 'circle', by: 'criterion', why: 'far-optimum' },
    { what: 'plane', by: null, why: 'alike' },
    { what: 'normal', by: null, why: 'no-effect' },
    { what: 'line', by: null, why: 'no-main-direction' },
  ],
  'directions-not-settled': [{ what: 'cone' }, { what: 'cylinder' }],
  'fit-not-settled': [{}],
  'contacts-uncertain': [{}],
  'exchange-endless': [{}],
  'tips-without-side': [{ what: 'line' }, { what: 'point' }],
  'side-unknown': [{ datum: 'F', feature: 'BORE' }],
  'tips-without-normals': [{ datum: 'F', feature: 'EDGE', type: 'line' }],
  'mixed-tips': [{ datum: 'C', features: ['LEFT', 'RIGHT'] }],
  'sigma-missing': [{ datum: 'F', feature: 'BORE' }],
  'outer-side-unknown': [{ datum: 'F', type: 'cylinder' }],
  'pattern-undetermined': [{ datum: 'C' }],
  'clocking-off-axis': [{ datum: 'C', features: ['SLOT'] }],
  other: (
    [
      'too-few-points',
      'degenerate-points',
      'not-finite',
      'not-converged',
      'missing-feature',
      'missing-side',
      'missing-normals',
      'mixed-probe-radius',
      'open-freedom',
      'redundant-datum',
      'alignment',
      'invalid-definition',
      'invalid-argument',
    ] as const
  ).map((kind) => ({
    kind,
    message: 'Something in the sums went quite wrong.',
    remedy: 'Look at it again.',
  })),
};

const rowFaultValues: Examples<RowFaultValues> = {
  'empty-cell': [{ decimal: '.' }],
  'no-finite-number': [{ decimal: '.' }],
  'number-too-large': [{ decimal: '.' }],
  'other-decimal-sign': [
    { decimal: '.', fromPlan: false },
    { decimal: ',', fromPlan: true },
  ],
  'grouped-number': [{ decimal: ',' }],
  'dash-for-minus': [{ decimal: '.' }],
  'no-number': [{ decimal: '.' }],
  'no-unit-normal': [{ length: 0.95731 }],
  'points-differ': [
    { wanted: 'normal' },
    { wanted: 'no-normal' },
    { wanted: 'value' },
    { wanted: 'empty-cell' },
  ],
  'temperature-range': [{ coldest: -50, hottest: 200 }],
  'negative-radius': [{}],
  'sigma-not-positive': [{}],
  'row-too-short': [
    { cells: 1, of: 8 },
    { cells: 4, of: 8 },
  ],
  'row-too-long': [{ cells: 9, of: 8 }],
};

function listed<Code extends string, Values>(values: Readonly<Record<Code, readonly Values[]>>) {
  return (Object.keys(values) as Code[]).flatMap((code) => values[code].map((of) => ({ code, values: of })));
}

const failures = listed<FailureCode, unknown>(failureValues) as readonly FailureNote[];
const rowFaults = listed<RowFaultCode, unknown>(rowFaultValues) as readonly RowFaultNote[];
const row = { file: 'points.csv', line: 258, column: 'x', found: 'oops' };
const unreadable = rowFaults.map((fault) => ({ code: 'unreadable-row', values: { ...row, fault } }) as const);
const first = unreadable[0]!;
const hand = { code: 'by-hand', values: { reason: 'burr' } } as const;
const leftOut = { file: 'points.csv', count: 5, lines: [7, 8, 9] };

const noteValues: Examples<NoteValues> = {
  'no-points-of-station': [{}],
  'station-failed': failures.flatMap((failure) => [
    { feature: null, failure },
    { feature: 'SEAT', failure },
  ]),
  'station-unreadable': [0, 1, 4].map((more) => ({ row: first, more })),
  'feature-excluded': [{ feature: 'EDGE', reason: 'burr' }],
  'unreadable-row': unreadable.map(({ values }) => values),
  'unreadable-cell': rowFaults.map((fault) => ({ column: 'x', fault })),
  'station-set-aside': [{ station: 3, line: 12 }],
  'station-cell-empty': [{ feature: 'SEAT' }],
  'unknown-station': [{ station: '99', last: 18 }],
  'hub-feature-at-station': [{ feature: 'FACE', station: 5 }],
  'unknown-feature': [
    { owner: 'hub', feature: 'BALL', near: null, known: ['FACE', 'BORE'] },
    { owner: 'blade', feature: 'SAET', near: 'SEAT', known: ['SEAT'] },
  ],
  'by-hand': [hand.values],
  'unit-contradicts-size': [
    { file: 'points.csv', source: 'plan', stated: 'inch', fits: 'mm' },
    { file: 'points.csv', source: 'header', stated: 'inch', fits: 'mm' },
  ],
  'unit-of-plan-taken': [{ file: 'points.csv', header: 'inch', planned: 'mm' }],
  'unit-unknown': [{ file: 'points.csv' }],
  'rows-left-out': [
    { ...leftOut, reason: null },
    { ...leftOut, count: 1, lines: [7], reason: null },
    { ...leftOut, reason: { code: 'station-cell-empty', values: { feature: 'SEAT' } } },
  ],
  'points-left-out': [
    { ...leftOut, reason: hand },
    { ...leftOut, count: 1, lines: [7], reason: hand },
  ],
  'unknown-direction': [0, 3].map((more) => ({ file: 'points.csv', text: 'sideways', line: 12, more })),
  'idle-exclusion': [
    { file: 'points.csv', feature: 'EDGE', station: 9, planned: true },
    { file: 'points.csv', feature: 'NOSE', station: null, planned: false },
  ],
  'no-uncertainty': [{ stations: [4] }, { stations: [4, 7] }],
  'no-probing': [{}],
  'temperature-spread': [{ station: 15, feature: 'SEAT', spread: 6.25 }],
  'hub-datum-off': [{ datum: 'C', features: ['SLOT'], off: 1.75 }],
  'wild-points': [
    {
      station: 11,
      features: [{ feature: 'SEAT', points: [{ point: 1, off: 5.25 }], more: 2 }],
    },
    { station: null, features: [{ feature: 'FACE', points: [{ point: 1, off: 5.25 }], more: 0 }] },
  ],
  'rough-feature': (
    ['plane', 'line', 'circle', 'sphere', 'cylinder', 'cone', 'point', 'midplane', 'pattern'] as const
  ).map((type) => ({ station: 12, feature: 'FLANK', type, points: 32, form: 0.1938 })),
  'inward-normals': [
    { station: 13, feature: 'EDGE', datum: 'E', tips: true },
    { station: null, feature: 'FACE', datum: 'A', tips: false },
  ],
  'screened-points': [
    {
      station: 14,
      feature: 'SEAT',
      points: [{ point: 4, distance: -0.0414 }],
      more: 3,
      total: 4,
      excluded: true,
    },
    {
      station: null,
      feature: 'FACE',
      points: [{ point: 4, distance: 0.0414 }],
      more: 0,
      total: 1,
      excluded: false,
    },
  ],
  'too-few-for-diagnosis': [{ needed: 4, whole: 3 }],
  'causes-undetermined': [{}],
  'not-in-diagnosis': [{ stations: [4] }, { stations: [4, 7] }],
  'scatter-unknown': [{}],
  'mean-uncertainty': [{ stations: [4] }, { stations: [4, 7] }],
  'hub-uncertainty-unknown': [{}],
  'no-welds-file': [{}],
  'welds-lack-stations': [{ stations: [4] }, { stations: [4, 7, 9] }],
  'welds-lack-many': [{ missing: 7, measured: 20 }],
  'welds-name-no-tool': [{}],
  'one-tool': [{}],
  'one-weld-a-tool': [{}],
  'cause-not-separable': [{}],
  'too-few-for-cause': [{}],
};

/** Every sentence, with each of its forms. */
export const noteExamples = listed<NoteCode, unknown>(noteValues) as readonly Note[];
