/** A disc that sat off-centre when its blades were welded, on an eccentric index table, with one slipped clamp. */
import { annularFace, bore, flat } from '../features.ts';
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

/** Station 5 of 20, clockwise from 9°: 9° − 4·18° = −63°. The ring moved this way by 21 µm. */
const towardsStation5 = (-63 * Math.PI) / 180;

const hub = [
  bore({
    label: 'A',
    feature: 'HUB-BORE',
    point: [0, 0, 0],
    axis: [0, 0, 1],
    radius: 80,
    heights: [-6, -20, -34, -48, -62],
    perRing: 32,
    form: 0.0015,
  }),
  annularFace({
    label: 'B',
    feature: 'HUB-FACE',
    point: [0, 0, 0],
    normal: [0, 0, 1],
    radii: [90, 100, 130],
    perRing: 40,
    form: 0.002,
  }),
  bore({
    label: 'C',
    feature: 'HUB-DOWEL',
    point: [112, 0, 0],
    axis: [0, 0, 1],
    radius: 6,
    heights: [-4, -10],
    perRing: 16,
  }),
];

const blade = [
  flat({
    label: 'D',
    feature: 'FLANK',
    point: [0, 8, 85],
    normal: [0, 1, 0],
    along: [0, 0, 1],
    length: 130,
    width: 40,
    columns: 9,
    rows: 4,
  }),
  bore({
    label: 'E',
    feature: 'ROOT-HOLE',
    point: [-16, 0, 22],
    axis: [0, 1, 0],
    radius: 5,
    heights: [-4, 4],
    perRing: 10,
  }),
  bore({
    label: 'F',
    feature: 'TIP-HOLE',
    point: [-16, 0, 148],
    axis: [0, 1, 0],
    radius: 4,
    heights: [-3, 3],
    perRing: 8,
  }),
];

export const offCentre: Scenario = {
  folder: 'off-centre',
  seed: 6,
  plan: {
    ...rowanHead(2, 'A', {
      machine: 'Bridge machine 2',
      operator: 'Operator 2',
      date: '2026-05-20',
      calibrationDue: '2026-09-30',
    }),
    import: {
      delimiter: ';',
      decimal: ',',
      unit: 'mm',
      columns: { label: 'Label', x: 'X', y: 'Y', z: 'Z' },
      label: 'B(?<station>\\d+)_(?<feature>.+)',
    },
    disc: {
      stations: 20,
      firstAngle: 9,
      sense: 'clockwise',
      datums: datumsOf(hub),
    },
    blade: {
      seat: { radius: 248, axial: -22, heightAngle: -4, staggerAngle: 41 },
      datums: datumsOf(blade),
      pose: 'datum',
      position: positionOutTo(165),
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
    ring: [0.021 * Math.cos(towardsStation5), 0.021 * Math.sin(towardsStation5), 0.002, 1.6e-5, -1.0e-5, 0],
    index: { offset: 0, amplitude: 4.0, phaseDegrees: 110, scatter: 0.9 },
    tools: [{ name: 'T1', setting: [0.002, 0.003, 0.006, -1.0e-5, 1.2e-5, 4.0e-5] }],
    wear: [0, 0.0001, 0.0002, 0, 0, 0],
    slips: { 13: [0.08, 0.004, -0.006, 0, 2.0e-5, -4.0e-4] },
    scatter: { translation: 0.0022, rotation: 1.5e-5 },
  },
  welds: weldOrder(
    [1, 11, 6, 16, 3, 13, 8, 18, 5, 15, 10, 20, 2, 12, 7, 17, 4, 14, 9, 19],
    [{ name: 'T1', welds: 20 }],
    ['2026-05-11', '2026-05-12', '2026-05-13', '2026-05-15'],
    5,
  ),
  machine: { rotation: [-0.42, 1.08, 0.27], translation: [530.2, 344.9, 120.6] },
  measurement: { noise: 0.001, warm: null, tipRadius: null, notMeasured: [] },
  csv: {
    delimiter: ';',
    decimal: ',',
    header: ['Label', 'X', 'Y', 'Z'],
    row: ({ station, feature, at }) => [
      station === null ? feature : `B${String(station).padStart(2, '0')}_${feature}`,
      ...at.map((value) => fixed(value, 5)),
    ],
    strays: [],
  },
};
