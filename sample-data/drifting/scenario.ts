/** A disc whose blades wander as the tools wear: welded in opposite pairs, the tool changed after the ninth weld. */
import { annularFace, bore, flat, touchedBall } from '../features.ts';
import {
  datumsOf,
  limitsWith,
  machineUncertainty,
  plannedBudget,
  positionOutTo,
  rowanHead,
  titanium,
  touchedOf,
} from '../rowan.ts';
import { type Scenario, weldOrder } from '../scenario.ts';
import { fixed } from '../text.ts';

const tipRadius = 1.5;

const hub = [
  annularFace({
    label: 'A',
    feature: 'HUB-FACE',
    point: [0, 0, 0],
    normal: [0, 0, 1],
    radii: [76, 92, 108],
    perRing: 36,
    form: 0.0022,
  }),
  bore({
    label: 'B',
    feature: 'HUB-BORE',
    point: [0, 0, 0],
    axis: [0, 0, 1],
    radius: 66,
    heights: [-6, -18, -30, -42],
    perRing: 28,
    form: 0.0016,
  }),
  flat({
    label: 'C',
    feature: 'HUB-FLAT',
    point: [0, 118, -14],
    normal: [0, 1, 0],
    along: [1, 0, 0],
    length: 84,
    width: 12,
    columns: 15,
    rows: 4,
  }),
];

const blade = [
  flat({
    label: 'D',
    feature: 'SEAT',
    point: [0, 0, 12],
    normal: [0, 0, 1],
    along: [1, 0, 0],
    length: 44,
    width: 22,
    columns: 5,
    rows: 4,
  }),
  flat({
    label: 'E',
    feature: 'FLANK',
    point: [0, 9, 70],
    normal: [0, 1, 0],
    along: [0, 0, 1],
    length: 96,
    width: 36,
    columns: 7,
    rows: 3,
  }),
  bore({
    label: 'F',
    feature: 'BORE',
    point: [-14, 0, 12],
    axis: [0, 0, 1],
    radius: 5,
    heights: [-3, -9],
    perRing: 8,
  }),
  touchedBall({
    label: 'G',
    feature: 'BALL',
    centre: [0, 0, 158],
    radius: 8,
    pole: [0, 0, 1],
    latitudes: [0, 40],
    perRing: 6,
  }),
];

export const drifting: Scenario = {
  folder: 'drifting',
  seed: 107,
  plan: {
    ...rowanHead(3, 'B', {
      machine: 'Bridge machine 1',
      operator: 'Operator 1',
      date: '2026-08-06',
      calibrationDue: '2026-12-31',
    }),
    disc: {
      stations: 16,
      firstAngle: 11.25,
      sense: 'counterclockwise',
      datums: datumsOf(hub),
    },
    blade: {
      seat: { radius: 228, axial: -16, heightAngle: 7, staggerAngle: 33 },
      datums: datumsOf(blade),
      pose: 'bestfit',
      position: positionOutTo(150),
      limits: limitsWith(0.03),
    },
    temperature: { applied: false, part: 22.4, ...titanium },
    uncertainty: machineUncertainty,
    decision: { rule: 'guarded', probability: 0.95 },
    budget: { ...plannedBudget, wear: 0.02, toolChange: 0.01 },
  },
  hub: touchedOf(hub),
  blade: touchedOf(blade),
  causes: {
    ring: [0.002, 0.003, 0, -3e-6, 2e-6, 0],
    index: { offset: 0, amplitude: 0.5, phaseDegrees: 200, scatter: 0.6 },
    tools: [
      { name: 'T1', setting: [0.004, 0.003, 0.004, 1.0e-5, 0.8e-5, 5.0e-5] },
      // The change to T2: −9 µm along oscillation, +5 µm lateral, +7 µm upset, and a small turn about upset.
      { name: 'T2', setting: [-0.005, 0.008, 0.011, 1.0e-5, 0.8e-5, -7.0e-5] },
    ],
    wear: [0, 0.0025, 0.0036, -6.0e-6, 0, 0],
    slips: {},
    scatter: { translation: 0.0018, rotation: 1.2e-5 },
  },
  welds: weldOrder(
    [1, 9, 5, 13, 3, 11, 7, 15, 2, 10, 6, 14, 4, 12, 8, 16],
    [
      { name: 'T1', welds: 9 },
      { name: 'T2', welds: 7 },
    ],
    ['2026-07-27', '2026-07-28', '2026-07-29', '2026-07-30'],
    4,
  ),
  machine: { rotation: [2.2, 0.6, -1.1], translation: [-188.5, 622.3, 74.1] },
  measurement: {
    noise: 0.001,
    warm: { temperature: 22.4, expansion: titanium.expansion },
    tipRadius,
    notMeasured: [12],
  },
  csv: {
    delimiter: ',',
    decimal: '.',
    header: ['seq', 'station', 'feature', 'x', 'y', 'z', 'r'],
    row: ({ sequence, station, feature, at }) => [
      String(sequence),
      station === null ? '' : String(station),
      feature,
      ...at.map((value) => fixed(value, 5)),
      fixed(tipRadius, 4),
    ],
    // The operator checked the reference ball beside the disc; the plan does not know it.
    strays: [
      { station: null, feature: 'REFERENCE-BALL', at: [-640.51234, 210.20417, 55.31875] },
      { station: null, feature: 'REFERENCE-BALL', at: [-627.01126, 210.20388, 55.31902] },
      { station: null, feature: 'REFERENCE-BALL', at: [-633.76177, 216.95491, 55.31866] },
      { station: null, feature: 'REFERENCE-BALL', at: [-633.76201, 210.20402, 62.06911] },
    ],
  },
};
