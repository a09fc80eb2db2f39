/** What the plan asks for, and the datums as they were found. */
import type { LimitName } from '../../../shared-math/definition.ts';
import type { Vec3 } from '../../../shared-math/geometry/types.ts';
import type { FeatureReport, StationResult } from '../../../shared-math/result.ts';
import type { PlanDatumDetails, PlanDetails } from '../../api.ts';
import { type Block, heading, note, type TableBlock, type TableColumn } from '../document.ts';
import { freedomIn } from '../messages/recorded.ts';
import { type Context, capital, limitNames, zoneSize } from './context.ts';
import { numberRanges } from './summary.ts';

export function planSection(context: Context): readonly Block[] {
  const { m, f, plan, result } = context;
  const words = m.plan;
  const { details } = plan;
  const { seat, overridden } = details;
  const first = plan.stations[0];
  return [
    heading(2, words.title),
    {
      kind: 'keyValues',
      columns: 1,
      pairs: [
        {
          key: words.stations,
          value:
            details.explicitAngles || first === undefined
              ? words.listed(plan.stations.length)
              : words.evenly(plan.stations.length, f.degrees(first.angle), plan.sense === 'clockwise'),
        },
        {
          key: words.seat,
          value: words.seatValue(
            f.millimetres(seat.radius),
            f.millimetres(seat.axial),
            f.degrees(seat.heightAngle),
            f.degrees(seat.staggerAngle),
          ),
        },
        ...(overridden.length === 0 ? [] : [{ key: words.overridden, value: numberRanges(overridden) }]),
        { key: words.pose, value: words.poses[plan.pose] },
        { key: capital(words.limits), value: limitsText(context, plan.limits) },
        ...(result.pattern === null
          ? []
          : [{ key: words.relative, value: f.limitWith('position', result.pattern.tolerance) }]),
      ],
    },
    checkPointTable(context),
    ...ownValuesTable(context),
    heading(3, words.hub),
    hubTable(context),
    // A best fit of the blade knows no precedence.
    ...(plan.pose === 'bestfit' ? [note(words.order)] : []),
    heading(3, words.blade),
    bladeTable(context),
    note([...(plan.pose === 'bestfit' ? [] : [words.order]), words.residuals, words.bladeNote].join(' ')),
  ];
}

function limitsText({ m, f }: Context, limits: Readonly<Partial<Record<LimitName, number>>>): string {
  const stated = limitNames.flatMap((name) => {
    const limit = limits[name];
    return limit === undefined ? [] : [`${m.errors[name]}\u00a0${f.limitWith(name, limit)}`];
  });
  return stated.length === 0 ? m.plan.noLimits : stated.join(', ');
}

/** Check points of the first station that has them all as the plan's blade block; overrides show on their own stations. */
function checkPointTable(context: Context): Block {
  const { m, f, plan, result } = context;
  const usual =
    result.stations.find(({ station }) => !plan.details.overridden.includes(station)) ?? result.stations[0];
  return {
    kind: 'table',
    caption: m.plan.checkPoints,
    columns: [
      { header: m.plan.checkPoint, align: 'left' },
      { header: m.plan.coordinates, align: 'left', grow: 1 },
      { header: m.plan.zone, align: 'left' },
      { header: m.plan.tolerance, align: 'right' },
    ],
    rows: (usual?.position.checkPoints ?? []).map((point) => ({
      cells: [
        point.name,
        f.vector(point.at),
        point.direction === null
          ? m.zones[point.zone]
          : `${m.zones[point.zone]}, n\u00a0=\u00a0${f.vector(point.direction)}`,
        zoneSize(context, point),
      ],
    })),
  };
}

/** Seat, check points and limits of each station for which the plan replaces some of them. */
function ownValuesTable(context: Context): readonly Block[] {
  const { m, f, plan, result } = context;
  const words = m.plan;
  const stations = result.stations.filter(({ station }) => plan.details.overridden.includes(station));
  if (stations.length === 0) return [];
  return [
    {
      kind: 'table',
      caption: words.ownValues,
      columns: [
        { header: m.stations.station, align: 'right' },
        { header: words.seat, align: 'left', grow: 1 },
        { header: words.checkPoints, align: 'left', grow: 1 },
        { header: capital(words.limits), align: 'left', grow: 1 },
      ],
      rows: stations.map((station) => {
        const seat = seatOf(station);
        return {
          cells: [
            String(station.station),
            words.seatValue(
              f.millimetres(seat.radius),
              f.millimetres(seat.axial),
              f.degrees(seat.heightAngle),
              f.degrees(seat.staggerAngle),
            ),
            station.position.checkPoints
              .map((point) => {
                const across = point.direction === null ? '' : `, n\u00a0=\u00a0${f.vector(point.direction)}`;
                return `${point.name} ${f.vector(point.at)} ${zoneSize(context, point)}${across}`;
              })
              .join(m.semicolon),
            limitsText(context, Object.fromEntries(station.limits.map(({ name, limit }) => [name, limit]))),
          ],
        };
      }),
    },
  ];
}

const DEGREE = Math.PI / 180;

/** The seat that a nominal blade frame was built from: mm and degrees, without what the calculation leaves in the last digits. */
function seatOf({ angle, nominal: { origin, axes } }: StationResult): PlanDetails['seat'] {
  const [cos, sin] = [Math.cos(angle * DEGREE), Math.sin(angle * DEGREE)];
  const along = ([x, y]: Vec3): number => x * cos + y * sin;
  const across = ([x, y]: Vec3): number => y * cos - x * sin;
  const [o, , u] = axes;
  const height = Math.atan2(u[2], along(u));
  const a = -Math.sin(height) * along(o) + Math.cos(height) * o[2];
  const rounded = (value: number): number => Number(value.toFixed(6));
  return {
    radius: rounded(along(origin)),
    axial: rounded(origin[2]),
    heightAngle: rounded(height / DEGREE),
    staggerAngle: rounded(Math.atan2(across(o), a) / DEGREE),
  };
}

function columns({ m, f }: Context): readonly TableColumn[] {
  const words = m.plan;
  return [
    { header: words.datum, align: 'left' },
    { header: words.feature, align: 'left' },
    { header: words.type, align: 'left' },
    { header: words.association, align: 'left', grow: 1 },
    { header: words.fixes, align: 'left', grow: 1.35 },
    { header: words.points, align: 'right' },
    { header: words.rms, unit: f.lengthSign, align: 'right' },
    { header: words.form, unit: f.lengthSign, align: 'right' },
  ];
}

function hubTable(context: Context): TableBlock {
  const { f, plan, result } = context;
  return {
    kind: 'table',
    caption: '',
    columns: columns(context),
    rows: plan.details.hubDatums.map((datum) => {
      const found = result.frame.datums.filter(({ label }) => belongs(label, datum));
      return {
        cells: [
          ...datumCells(context, 'disc', datum, found[0]),
          String(sum(found.map(({ points }) => points))),
          f.length(largest(found.map(({ rms }) => rms))),
          f.length(largest(found.map(({ form }) => form))),
        ],
      };
    }),
  };
}

function bladeTable(context: Context): TableBlock {
  const { f, plan, result } = context;
  return {
    kind: 'table',
    caption: '',
    columns: columns(context),
    rows: plan.details.bladeDatums.map((datum) => {
      const of = ({ features }: StationResult) => features.filter(({ label }) => belongs(label, datum));
      const counts = result.stations.map((station) => sum(of(station).map(({ points }) => points)));
      const all = result.stations.flatMap(of);
      const [fewest, most] = [Math.min(...counts), Math.max(...counts)];
      return {
        cells: [
          ...datumCells(context, 'blade', datum, all[0]),
          counts.length === 0 ? '' : fewest === most ? String(most) : `${fewest}–${most}`,
          f.length(largest(all.map(({ rms }) => rms))),
          f.length(largest(all.map(({ form }) => form))),
        ],
      };
    }),
  };
}

/** The parts of a pattern are reported as `C.1`, `C.2`. */
function belongs(label: string, datum: PlanDatumDetails): boolean {
  return label === datum.label || (datum.type === 'pattern' && label.startsWith(`${datum.label}.`));
}

function datumCells(
  { m, f, plan }: Context,
  frame: 'disc' | 'blade',
  { label, features, type, association, weights, screenExcludes }: PlanDatumDetails,
  found: FeatureReport | undefined,
): string[] {
  const fixes = found?.freedoms?.map((freedom) => freedomIn(m, f, freedom, frame)) ?? found?.fixes ?? [];
  const bestfit = plan.pose === 'bestfit' && plan.details.bladeDatums.some((datum) => datum.label === label);
  return [
    label,
    features.join(', '),
    m.types[type],
    [
      m.associations[association],
      ...(weights === 'sigma' ? [m.plan.weighted] : []),
      ...(screenExcludes ? [m.plan.screened] : []),
    ].join(', '),
    bestfit ? m.plan.bestfit : fixes.join(m.semicolon),
  ];
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}

function largest(values: readonly number[]): number | null {
  return values.length === 0 ? null : Math.max(...values);
}
