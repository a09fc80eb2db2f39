/** A disc on which everything went well: small tool setting, small scatter, every station inside every limit. */

import { annularFace, bore, flat, slot } from '../features.ts';
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

const hub = [
  annularFace({
    label: 'A',
    feature: 'HUB-FACE',
    point: [0, 0, 0],
    normal: [0, 0, 1],
    radii: [84, 104, 124],
    perRing: 32,
    form: 0.0018,
  }),
  bore({
    label: 'B',
    feature: 'HUB-BORE',
    point: [0, 0, 0],
    axis: [0, 0, 1],
    radius: 72,
    heights: [-8, -20, -32, -44],
    perRing: 25,
    form: 0.0015,
  }),
  slot({
    label: 'C',
    features: ['HUB-SLOT-LEFT', 'HUB-SLOT-RIGHT'],
    point: [96, 0, 0],
    half: 8,
    depth: 6,
    length: 20,
    width: 8,
    columns: 10,
    rows: 3,
  }),
];

const blade = [
  flat({
    label: 'D',
    feature: 'FLANK',
    point: [0, 9, 80],
    normal: [0, 1, 0],
    along: [0, 0, 1],
    length: 120,
    width: 36,
    columns: 8,
    rows: 4,
  }),
  flat({
    label: 'E',
    feature: 'EDGE',
    point: [28, 0, 80],
    normal: [1, 0, 0],
    along: [0, 0, 1],
    length: 120,
    width: 8,
    columns: 8,
    rows: 2,
  }),
  flat({
    label: 'F',
    feature: 'SEAT',
    point: [0, 0, 12],
    normal: [0, 0, 1],
    along: [1, 0, 0],
    length: 44,
    width: 22,
    columns: 6,
    rows: 4,
  }),
];

export const conforming: Scenario = {
  folder: 'conforming',
  seed: 79,
  plan: {
    ...rowanHead(1, 'A', {
      machine: 'Bridge machine 2',
      operator: 'Operator 1',
      date: '2026-03-12',
      calibrationDue: '2026-09-30',
    }),
    disc: {
      stations: 18,
      firstAngle: 0,
      sense: 'counterclockwise',
      datums: datumsOf(hub),
    },
    blade: {
      seat: { radius: 236, axial: -18, heightAngle: 5.5, staggerAngle: 36 },
      datums: datumsOf(blade),
      pose: 'datum',
      position: positionOutTo(160),
      limits: limitsWith(0.025),
    },
    temperature: { applied: true, part: 20, ...titanium },
    uncertainty: machineUncertainty,
    decision: { rule: 'simple', probability: 0.95 },
    budget: plannedBudget,
  },
  hub: touchedOf(hub),
  blade: touchedOf(blade),
  causes: {
    ring: [0.003, -0.002, 0.001, 4e-6, -3e-6, 0],
    index: { offset: 0, amplitude: 0.6, phaseDegrees: 70, scatter: 0.4 },
    tools: [{ name: 'T1', setting: [0.003, -0.004, 0.008, 2.0e-5, 1.5e-5, -6.0e-5] }],
    wear: [0, 0.0001, 0.0002, 0, 0, 0],
    slips: {},
    scatter: { translation: 0.003, rotation: 2.8e-5 },
  },
  welds: weldOrder(
    [1, 10, 5, 14, 3, 12, 7, 16, 9, 18, 2, 11, 6, 15, 4, 13, 8, 17],
    [{ name: 'T1', welds: 18 }],
    ['2026-03-02', '2026-03-03', '2026-03-04'],
    6,
  ),
  machine: { rotation: [0.31, -0.12, 0.84], translation: [412.7, 268.4, -91.3] },
  measurement: { noise: 0.001, warm: null, tipRadius: null, notMeasured: [] },
  csv: {
    delimiter: ',',
    decimal: '.',
    header: ['station', 'feature', 'x', 'y', 'z', 'i', 'j', 'k'],
    row: ({ station, feature, at, normal }) => [
      station === null ? '' : String(station),
      feature,
      ...at.map((value) => fixed(value, 5)),
      ...normal.map((value) => fixed(value, 6)),
    ],
    strays: [],
  },
};
