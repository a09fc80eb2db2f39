/** Sample discs measured with fresh noise, before and after a correction acts on their true blades. */
import { exportPoints, makeDisc, type PlantedStation } from '../../sample-data/disc.ts';
import {
  bladeFrame,
  compose,
  errorsOf,
  inverse,
  type Motion,
  motionOf,
  type SixVector,
} from '../../sample-data/motion.ts';
import { seededRandom } from '../../sample-data/random.ts';
import type { ExportedPoint, Scenario } from '../../sample-data/scenario.ts';
import type { Correction, Setting } from '../../shared-math/diagnosis/corrections/correction.ts';
import type { Scatter } from '../../shared-math/diagnosis/findings.ts';
import type { PointBlock } from '../../shared-math/points.ts';

const ARC_SECOND = Math.PI / 648_000;

/** The true blades of a disc like the sample, from another draw of its scatter. */
export function plant(scenario: Scenario, seed: number): readonly PlantedStation[] {
  return makeDisc({ ...scenario, seed }).stations;
}

/** Points of the disc, with the noise of this seed. */
export function measure(
  scenario: Scenario,
  stations: readonly PlantedStation[],
  seed: number,
): readonly PointBlock[] {
  const strays = new Set(scenario.csv.strays.map((s) => s.feature));
  const features = new Map<string, ExportedPoint[]>();
  for (const point of exportPoints(scenario, [...stations], seededRandom(seed))) {
    if (strays.has(point.feature)) continue;
    const key = `${point.station} ${point.feature}`;
    features.set(key, [...(features.get(key) ?? []), point]);
  }
  const { tipRadius } = scenario.measurement;
  return [...features.values()].map((points) => ({
    station: points[0]!.station,
    feature: points[0]!.feature,
    xyz: Float64Array.from(points.flatMap((p) => p.at)),
    normals: Float64Array.from(points.flatMap((p) => p.normal)),
    tipRadius: tipRadius === null ? null : new Float64Array(points.length).fill(tipRadius),
    sigma: null,
    temperature: null,
  }));
}

/** What the scenario plants as scatter. */
export function plantedScatter({ causes }: Scenario): Scatter {
  const { translation: t, rotation: r } = causes.scatter;
  return {
    process: [t, t, t, r, r, r],
    measurement: [0, 0, 0, 0, 0, 0],
    index: causes.index.scatter * ARC_SECOND,
    degreesOfFreedom: 100,
  };
}

/**
 * The true blades with the settings of a correction: M_new = H · Z · N · C · N⁻¹ · M, written with the generator's own motions.
 */
export function correct(
  scenario: Scenario,
  stations: readonly PlantedStation[],
  { settings }: Pick<Correction, 'settings'>,
): readonly PlantedStation[] {
  const freedoms = {
    tool: ['oscillation', 'lateral', 'upset', 'rotOscillation', 'rotLateral', 'rotUpset'],
    hub: ['x', 'y', 'z', 'rotX', 'rotY', 'rotZ'],
  };
  const six = (kind: 'tool' | 'hub', applies: (s: Setting) => boolean): Motion =>
    motionOf(
      freedoms[kind].map((name) =>
        settings
          .filter((s) => s.kind === kind && s.freedom === name && applies(s))
          .reduce((sum, s) => sum + s.change, 0),
      ) as SixVector,
    );
  return stations.map((planted) => {
    const { station, angle, errors } = planted;
    const tool = scenario.welds.find((w) => w.station === station)!.tool;
    const nominal = bladeFrame(scenario.plan.blade.seat, angle);
    const index = settings
      .filter((s) => s.kind === 'index' && s.of === String(station))
      .reduce((sum, s) => sum + s.change, 0);
    const moved = compose(
      inverse(nominal),
      six('hub', () => true),
      motionOf([0, 0, 0, 0, 0, index]),
      nominal,
      six('tool', (s) => s.of === null || s.of === tool),
      motionOf(errors),
    );
    return { ...planted, errors: errorsOf(moved) };
  });
}
