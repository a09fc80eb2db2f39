/** What a reduction holds against limits, requirement by requirement, with the result of each station. */
import type { LimitName } from '../../../shared-math/definition.ts';
import type { StationResult, Verdict } from '../../../shared-math/result.ts';
import { languages } from '../messages/languages.ts';
import { messagesIn } from '../messages/messages.ts';
import { type Context, capital, limitNames, zoneSize } from './context.ts';

/** A plan is in the language of who wrote it, which need not be that of the report: this must not change what is accounted for. */
const everyLanguage = languages.map(messagesIn);
const positionNames = [...new Set(everyLanguage.map(({ characteristics }) => characteristics.position))];

/** One requirement of one station (or of the disc) with its result. */
export interface Account {
  readonly quantity: string;
  readonly requirement: string;
  readonly station: string;
  readonly result: string;
  readonly expanded: string;
  readonly probability: string;
  readonly verdict: Verdict | 'missing';
  /** Why there is no result. */
  readonly reason?: string;
}

/** All accounts of one kind of requirement, in the order of stations. */
export interface Requirement {
  /** What a plan may call it, in whatever language: `position`, `position tip`, `relative position` or the name of a limit. */
  readonly names: readonly string[];
  readonly accounts: readonly Account[];
  /** The largest of others that are listed themselves: shown only where the plan asks for it, and then stands for them. */
  readonly over?: readonly Requirement[];
}

/** Everything that this reduction holds against a limit. */
export function requirementsOf(context: Context): readonly Requirement[] {
  const { m, f, plan, result } = context;
  const words = m.characteristics;
  const { stations, pattern } = result;
  const points = [
    ...new Set(stations.flatMap(({ position }) => position.checkPoints.map(({ name }) => name))),
  ];
  const limits = limitNames.filter(
    (name) => plan.limits[name] !== undefined || stations.some((s) => s.limits.some((l) => l.name === name)),
  );
  const positions = points.map((name): Requirement => {
    const many = points.length > 1;
    return {
      names: [
        ...(many ? [] : positionNames),
        ...positionNames.map((position) => `${position} ${name}`),
        ...everyLanguage.map(({ characteristics }) => characteristics.positionAt(name)),
        `position at ${name}`,
      ],
      accounts: accountsOf(context, words.positionAt(name), (station) => {
        const point = station.position.checkPoints.find((entry) => entry.name === name);
        return point === undefined
          ? null
          : {
              requirement: words.atMost(zoneSize(context, point)),
              result: f.againstWith('position', point.value, point.tolerance),
              expanded: f.lengthWith(point.expanded),
              probability: f.probability(point.probability),
              verdict: point.verdict,
            };
      }),
    };
  });
  return [
    ...positions,
    ...(points.length > 1
      ? [
          {
            names: positionNames,
            over: positions,
            accounts: accountsOf(context, words.position, ({ position }) => ({
              requirement: words.atMost(f.limitWith('position', position.tolerance)),
              result: f.againstWith('position', position.value, position.tolerance),
              expanded: f.lengthWith(position.expanded),
              probability: f.probability(position.probability),
              verdict: position.verdict,
            })),
          },
        ]
      : []),
    ...limits.map(
      (name): Requirement => ({
        names: [name, ...everyLanguage.map(({ errors }) => errors[name])],
        accounts: accountsOf(context, capital(m.errors[name]), (station) =>
          limitAccount(context, station, name),
        ),
      }),
    ),
    ...(pattern === null
      ? []
      : [
          {
            names: [
              'relative position',
              'pattern',
              ...everyLanguage.map(({ characteristics }) => characteristics.relative),
            ],
            accounts: [
              {
                quantity: capital(words.relative),
                station: words.all,
                requirement: words.atMost(f.limitWith('position', pattern.tolerance)),
                result: f.againstWith('position', pattern.value, pattern.tolerance),
                expanded: f.lengthWith(pattern.expanded),
                probability: f.probability(pattern.probability),
                verdict: pattern.verdict,
              },
            ],
          },
        ]),
  ];
}

function limitAccount({ m, f }: Context, { limits }: StationResult, name: LimitName): Judged | null {
  const limit = limits.find((entry) => entry.name === name);
  if (limit === undefined) return null;
  return {
    requirement: m.characteristics.amount(f.limitWith(name, limit.limit)),
    result: f.againstWith(name, limit.value, limit.limit),
    expanded: f.errorWith(name, limit.expanded),
    probability: f.probability(limit.probability),
    verdict: limit.verdict,
  };
}

type Judged = Omit<Account, 'quantity' | 'station'>;

/** One account a station, missing stations included: a requirement that was not measured is not met. */
function accountsOf(
  { m, say, result }: Context,
  quantity: string,
  judge: (station: StationResult) => Judged | null,
): readonly Account[] {
  const name = capital(quantity);
  const measured = result.stations.flatMap((station) => {
    const judged = judge(station);
    return judged === null
      ? []
      : [
          {
            number: station.station,
            account: { ...judged, quantity: name, station: String(station.station) },
          },
        ];
  });
  const requirements = new Set(measured.map(({ account }) => account.requirement));
  const [common = ''] = requirements;
  const accounts = [
    ...measured,
    ...result.summary.missing.map(({ station, note: recorded, reason }) => ({
      number: station,
      account: {
        quantity: name,
        station: String(station),
        // Where stations differ, what would have held here is in the plan.
        requirement: requirements.size === 1 ? common : '',
        result: m.characteristics.notMeasured,
        expanded: '',
        probability: '',
        verdict: 'missing' as const,
        reason: say(recorded, reason),
      },
    })),
  ];
  return accounts.sort((a, b) => a.number - b.number).map(({ account }) => account);
}
