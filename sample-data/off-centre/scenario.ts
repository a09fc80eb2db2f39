/** A disc that sat off-centre when its blades were welded, on an eccentric index table, with one slipped clamp. */
import { type Scenario, weldOrder } from '../scenario.ts';
import { annulus, rectangle, tube } from '../surfaces.ts';
import { fixed } from '../text.ts';

/** Station 5 of 20, clockwise from 9°: 9° − 4·18° = −63°. The ring moved this way by 21 µm. */
const towardsStation5 = (-63 * Math.PI) / 180;

export const offCentre: Scenario = {
  folder: 'off-centre',
  seed: 6,
  plan: {
    format: 'hubtrue-plan/1',
    title: 'Rowan demonstrator fan, trial disc 2',
    units: 'mm',
    part: {
      name: 'Rowan demonstrator fan disc (invented)',
      number: 'ROWAN-FAN-02',
      revision: 'A',
      serial: 'TRIAL-2',
      material: 'Ti-6Al-4V',
    },
    inspection: {
      machine: 'Bridge machine 2',
      program: 'ROWAN-FULL',
      operator: 'Operator 2',
      date: '2026-05-20',
      calibrationDue: '2026-09-30',
    },
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
      datums: [
        {
          label: 'A',
          feature: 'HUB-BORE',
          type: 'cylinder',
          nominal: { point: [0, 0, 0], direction: [0, 0, 1], radius: 80 },
          side: 'inside',
        },
        {
          label: 'B',
          feature: 'HUB-FACE',
          type: 'plane',
          nominal: { point: [0, 0, 0], direction: [0, 0, 1] },
        },
        {
          label: 'C',
          feature: 'HUB-DOWEL',
          type: 'cylinder',
          nominal: { point: [112, 0, 0], direction: [0, 0, 1], radius: 6 },
          side: 'inside',
        },
      ],
    },
    blade: {
      seat: { radius: 248, axial: -22, heightAngle: -4, staggerAngle: 41 },
      datums: [
        {
          label: 'D',
          feature: 'FLANK',
          type: 'plane',
          nominal: { point: [0, 8, 85], direction: [0, 1, 0] },
        },
        {
          label: 'E',
          feature: 'ROOT-HOLE',
          type: 'cylinder',
          nominal: { point: [-16, 0, 22], direction: [0, 1, 0], radius: 5 },
          side: 'inside',
        },
        {
          label: 'F',
          feature: 'TIP-HOLE',
          type: 'cylinder',
          nominal: { point: [-16, 0, 148], direction: [0, 1, 0], radius: 4 },
          side: 'inside',
        },
      ],
      pose: 'datum',
      position: {
        tolerance: 0.05,
        zone: 'cylindrical',
        checkPoints: [
          { name: 'root', at: [0, 0, 0] },
          { name: 'tip', at: [0, 0, 165] },
        ],
      },
      limits: {
        oscillation: 0.025,
        lateral: 0.025,
        upset: 0.05,
        rotOscillation: 0.0005,
        rotLateral: 0.0005,
        rotUpset: 0.001,
      },
    },
    temperature: { applied: true, part: 20, expansion: 8.6e-6, uPart: 0.2, uExpansion: 0.5e-6 },
    uncertainty: { probing: 0.0012, scale: 2.5e-6, coverage: 0.95 },
    decision: { rule: 'simple', probability: 0.95 },
    budget: {
      toolSetup: 0.012,
      index: 0.012,
      frame: 0.01,
      wear: 0.005,
      toolChange: 0.008,
      scatter: 0.02,
    },
  },
  hub: [
    {
      feature: 'HUB-BORE',
      points: tube({
        point: [0, 0, 0],
        axis: [0, 0, 1],
        radius: 80,
        side: 'inside',
        heights: [-6, -20, -34, -48, -62],
        perRing: 32,
        form: 0.0015,
      }),
    },
    {
      feature: 'HUB-FACE',
      points: annulus({
        centre: [0, 0, 0],
        normal: [0, 0, 1],
        radii: [90, 100, 130],
        perRing: 40,
        form: 0.002,
      }),
    },
    {
      feature: 'HUB-DOWEL',
      points: tube({
        point: [112, 0, 0],
        axis: [0, 0, 1],
        radius: 6,
        side: 'inside',
        heights: [-4, -10],
        perRing: 16,
      }),
    },
  ],
  blade: [
    {
      feature: 'FLANK',
      points: rectangle({
        centre: [0, 8, 85],
        normal: [0, 1, 0],
        along: [0, 0, 1],
        length: 130,
        width: 40,
        columns: 9,
        rows: 4,
      }),
    },
    {
      feature: 'ROOT-HOLE',
      points: tube({
        point: [-16, 0, 22],
        axis: [0, 1, 0],
        radius: 5,
        side: 'inside',
        heights: [-4, 4],
        perRing: 10,
      }),
    },
    {
      feature: 'TIP-HOLE',
      points: tube({
        point: [-16, 0, 148],
        axis: [0, 1, 0],
        radius: 4,
        side: 'inside',
        heights: [-3, 3],
        perRing: 8,
      }),
    },
  ],
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
