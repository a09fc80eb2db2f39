/** From a scenario to the disc itself: planted errors, then the points a machine would have exported. */
import {
  add,
  bladeFrame,
  compose,
  errorsOf,
  inverse,
  type Motion,
  motionOf,
  move,
  rotationBy,
  type SixVector,
  scale,
  type Triple,
  turn,
} from './motion.ts';
import { type Random, seededRandom } from './random.ts';
import type { ExportedPoint, Scenario } from './scenario.ts';

const ARC_SECOND = Math.PI / 648_000;

export interface PlantedStation {
  station: number;
  /** θ, rad. */
  angle: number;
  errors: SixVector;
  /** Position (diameter of the cylindrical zone about upset) at each check point, mm. */
  positions: { name: string; value: number }[];
  conforms: boolean;
}

export interface MadeDisc {
  stations: PlantedStation[];
  points: ExportedPoint[];
}

export function makeDisc(scenario: Scenario): MadeDisc {
  const random = seededRandom(scenario.seed);
  const stations = plantStations(scenario, random);
  return { stations, points: exportPoints(scenario, stations, random) };
}

function plantStations(scenario: Scenario, random: Random): PlantedStation[] {
  const { stations, firstAngle, sense } = scenario.plan.disc;
  const step = ((sense === 'clockwise' ? -1 : 1) * 360) / stations;
  return Array.from({ length: stations }, (_, i) => {
    const station = i + 1;
    const angle = ((firstAngle + step * i) * Math.PI) / 180;
    const nominal = bladeFrame(scenario.plan.blade.seat, angle);
    const errors = errorsOf(
      compose(inverse(nominal), measuredFrame(scenario, station, angle, nominal, random)),
    );
    return judge(scenario, station, angle, errors);
  });
}

/** M = ring · Rz(index) · N · tool · wear · slip · scatter. */
function measuredFrame(
  scenario: Scenario,
  station: number,
  angle: number,
  nominal: Motion,
  random: Random,
): Motion {
  const { ring, index, tools, wear, slips, scatter } = scenario.causes;
  const weld = scenario.welds.find((each) => each.station === station)!;
  const tool = tools.find((each) => each.name === weld.tool)!;
  const firstOfTool = Math.min(
    ...scenario.welds.filter((each) => each.tool === weld.tool).map((each) => each.sequence),
  );
  const turned =
    index.offset +
    index.amplitude * Math.cos(angle - (index.phaseDegrees * Math.PI) / 180) +
    index.scatter * random.normal();
  const by = (size: number) => size * random.normal();
  const scattered: SixVector = [
    by(scatter.translation),
    by(scatter.translation),
    by(scatter.translation),
    by(scatter.rotation),
    by(scatter.rotation),
    by(scatter.rotation),
  ];
  return compose(
    motionOf(ring),
    { rotation: rotationBy([0, 0, turned * ARC_SECOND]), translation: [0, 0, 0] },
    nominal,
    motionOf(tool.setting),
    motionOf(wear.map((perWeld) => perWeld * (weld.sequence - firstOfTool)) as SixVector),
    motionOf(slips[station] ?? [0, 0, 0, 0, 0, 0]),
    motionOf(scattered),
  );
}

function judge(scenario: Scenario, station: number, angle: number, errors: SixVector): PlantedStation {
  const { position, limits } = scenario.plan.blade;
  const motion = motionOf(errors);
  const positions = position.checkPoints.map(({ name, at }) => {
    const moved = add(move(motion, at), scale(at, -1));
    return { name, value: 2 * Math.hypot(moved[0], moved[1]) };
  });
  const names = ['oscillation', 'lateral', 'upset', 'rotOscillation', 'rotLateral', 'rotUpset'];
  const conforms =
    positions.every(({ value }) => value <= position.tolerance) &&
    names.every((name, i) => Math.abs(errors[i]!) <= (limits[name] ?? Number.POSITIVE_INFINITY));
  return { station, angle, errors, positions, conforms };
}

/** The points that a machine would have exported of these stations. */
export function exportPoints(
  scenario: Scenario,
  stations: readonly PlantedStation[],
  random: Random,
): ExportedPoint[] {
  const { measurement, machine, plan } = scenario;
  const onMachine: Motion = { rotation: rotationBy(machine.rotation), translation: machine.translation };
  // Exactly undone by the reduction's factor 1 + α(20 − T) about the frame origin.
  const warmth =
    measurement.warm === null
      ? 1
      : 1 / (1 + measurement.warm.expansion * (20 - measurement.warm.temperature));

  function touch(
    station: number | null,
    feature: string,
    placed: Motion,
    point: { at: Triple; normal: Triple; form: number },
  ): Omit<ExportedPoint, 'sequence'> {
    const proud = point.form + measurement.noise * random.normal();
    const surface = scale(move(placed, add(point.at, scale(point.normal, proud))), warmth);
    const normal = turn(placed.rotation, point.normal);
    const probed = add(surface, scale(normal, measurement.tipRadius ?? 0));
    return { station, feature, at: move(onMachine, probed), normal: turn(onMachine.rotation, normal) };
  }

  const hub = scenario.hub.flatMap(({ feature, points }) =>
    points.map((point) => touch(null, feature, motionOf([0, 0, 0, 0, 0, 0]), point)),
  );
  const strays = scenario.csv.strays.map((stray) => ({ ...stray, normal: [0, 0, 1] as Triple }));
  const blades = stations
    .filter(({ station }) => !measurement.notMeasured.includes(station))
    .flatMap(({ station, angle, errors }) => {
      const placed = compose(bladeFrame(plan.blade.seat, angle), motionOf(errors));
      return scenario.blade.flatMap(({ feature, points }) =>
        points.map((point) => touch(station, feature, placed, point)),
      );
    });
  return [...hub, ...strays, ...blades].map((point, i) => ({ sequence: i + 1, ...point }));
}
