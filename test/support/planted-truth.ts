/**
 * What a diagnosis should find on a disc of known causes: the true values of its parameters and sizes, computed from the planted
 * motions by their definitions. For seats that are the same at every station.
 */
import type { PartDefinition } from '../../shared-math/definition.ts';
import type { Component, ComponentName, Diagnosis, Estimate } from '../../shared-math/diagnosis/findings.ts';
import { nominalBladeFrame } from '../../shared-math/frame/blade-frame.ts';
import type { Vec3 } from '../../shared-math/geometry/types.ts';
import { errorsOfMotion, type SimulatedCauses, type Six, twiceDisplacement } from './simulated-stations.ts';

export interface PlantedWeld {
  readonly station: number;
  /** Number of the tool in the order of first use, from 0. */
  readonly tool: number;
}

export interface PlantedTruth {
  /** By `component.key` or `component.key.of`. */
  readonly parameters: ReadonlyMap<string, number>;
  /** The full constant offset, were it all the tool's. */
  readonly wholeOffset: Six;
  /** Largest 2·|δ| of each component over the stations observed, mm. */
  readonly sizes: ReadonlyMap<ComponentName, number>;
}

const KEYS = ['oscillation', 'lateral', 'upset', 'rotOscillation', 'rotLateral', 'rotUpset'] as const;

export function plantedTruth(
  definition: PartDefinition,
  welds: readonly PlantedWeld[] | null,
  causes: SimulatedCauses,
  observed: readonly number[],
): PlantedTruth {
  const first = definition.stations[0]!;
  const nominal = nominalBladeFrame(first.angle, first.seat);
  const axial = unitEffect(nominal, 2, 1e-3);
  const clocking = unitEffect(nominal, 5, 1e-5);
  const points = first.requirement.checkPoints.map((c) => c.at);
  const whole = causes.tools[0]!.map(
    (x, i) => x + causes.ring[2]! * axial[i]! + causes.ring[5]! * clocking[i]!,
  );
  // The axial shift and clocking nearest to the whole offset in the displacement of the check points.
  const [z, turn] = nearest(whole, axial, clocking, points);
  const common = axial.map((x, i) => x * z + clocking[i]! * turn);
  const rest = whole.map((x, i) => x - common[i]!);

  const parameters = new Map<string, number>([
    ['ringShift.x', causes.ring[0]!],
    ['ringShift.y', causes.ring[1]!],
    ['ringShift.tiltX', causes.ring[3]!],
    ['ringShift.tiltY', causes.ring[4]!],
    ['ringShift.shift', Math.hypot(causes.ring[0]!, causes.ring[1]!)],
    ['common.axial', z],
    ['common.clocking', turn],
  ]);
  KEYS.forEach((key, i) => {
    parameters.set(`toolSetup.${key}`, rest[i]!);
    parameters.set(`wear.${key}`, causes.wear[i]!);
    for (let t = 1; t < causes.tools.length; t++)
      parameters.set(`toolChange.${key}.${t}`, causes.tools[t]![i]! - causes.tools[t - 1]![i]!);
  });
  for (const h of causes.index) parameters.set(`index.amplitude.index ${h.order}`, h.amplitude);

  const stations = definition.stations.filter((s) => observed.includes(s.station));
  const weldOf = (station: number) => {
    const at = (welds ?? []).findIndex((w) => w.station === station);
    const tool = welds?.[at]?.tool ?? 0;
    return { tool, age: (welds ?? []).slice(0, at).filter((w) => w.tool === tool).length };
  };
  const largest = (errorAt: (station: (typeof stations)[number]) => Six): number =>
    Math.max(
      ...stations.flatMap((s) => {
        const six = errorAt(s);
        return s.requirement.checkPoints.map((c) => twiceDisplacement(six, c.at));
      }),
    );
  const frame = (s: (typeof stations)[number]) => nominalBladeFrame(s.angle, s.seat);
  const [x, y, , a, b] = causes.ring as [number, number, number, number, number, number];
  const sizes = new Map<ComponentName, number>([
    ['ringShift', largest((s) => errorsOfMotion(frame(s), [x, y, 0, a, b, 0]))],
    ['common', largest(() => common)],
    ['toolSetup', largest(() => rest)],
    [
      'toolChange',
      largest((s) => causes.tools[weldOf(s.station).tool]!.map((v, i) => v - causes.tools[0]![i]!)),
    ],
    ['wear', largest((s) => causes.wear.map((w) => w * weldOf(s.station).age))],
    [
      'index',
      largest((s) => {
        const turnHere = causes.index.reduce(
          (sum, h) => sum + h.amplitude * Math.cos(h.order * s.angle - h.phase),
          0,
        );
        return errorsOfMotion(frame(s), [0, 0, 0, 0, 0, turnHere]);
      }),
    ],
  ]);
  return { parameters, wholeOffset: whole, sizes };
}

function unitEffect(nominal: Parameters<typeof errorsOfMotion>[0], which: number, step: number): Six {
  return errorsOfMotion(
    nominal,
    [0, 1, 2, 3, 4, 5].map((i) => (i === which ? step : 0)),
  ).map((x) => x / step);
}

function nearest(whole: Six, axial: Six, clocking: Six, points: readonly Vec3[]): readonly [number, number] {
  const rows = (six: Six): number[] =>
    points.flatMap(([px, py, pz]) => {
      const [tx, ty, tz, rx, ry, rz] = six as [number, number, number, number, number, number];
      return [tx + ry * pz - rz * py, ty + rz * px - rx * pz, tz + rx * py - ry * px];
    });
  const [a, b, w] = [rows(axial), rows(clocking), rows(whole)];
  const dot = (p: readonly number[], q: readonly number[]): number =>
    p.reduce((sum, v, i) => sum + v * q[i]!, 0);
  const determinant = dot(a, a) * dot(b, b) - dot(a, b) ** 2;
  return [
    (dot(a, w) * dot(b, b) - dot(b, w) * dot(a, b)) / determinant,
    (dot(b, w) * dot(a, a) - dot(a, w) * dot(a, b)) / determinant,
  ];
}

export function component(diagnosis: Pick<Diagnosis, 'components'>, name: ComponentName): Component {
  return diagnosis.components.find((c) => c.name === name)!;
}

export function covers({ low, high }: Pick<Estimate, 'low' | 'high'>, truth: number): boolean {
  return low <= truth && truth <= high;
}

/** Every planted parameter that the diagnosis states, with its interval. `toolNames` in the order of first use. */
export function statedParameters(
  diagnosis: Pick<Diagnosis, 'components'>,
  truth: PlantedTruth,
  toolNames: readonly string[],
): readonly { readonly name: string; readonly truth: number; readonly stated: Estimate }[] {
  const found = diagnosis.components.flatMap((c) =>
    c.parameters.flatMap((p) => {
      const of =
        c.name === 'toolChange' ? `.${toolNames.indexOf(p.of ?? '')}` : c.name === 'index' ? `.${p.of}` : '';
      const name = `${c.name}.${p.key}${of}`;
      const value = truth.parameters.get(name);
      return value === undefined ? [] : [{ name, truth: value, stated: p as Estimate }];
    }),
  );
  const whole = component(diagnosis, 'common').readings[1]?.parameters ?? [];
  return [
    ...found,
    ...whole.map((p, i) => ({
      name: `wholeOffset.${p.key}`,
      truth: truth.wholeOffset[i]!,
      stated: p as Estimate,
    })),
  ];
}
