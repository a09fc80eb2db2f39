/** The sentences of the result document, in English. */
import { listed } from '../diagnosis/words.ts';
import { englishFailures } from './english-failures.ts';
import { englishRowFaults } from './english-row-faults.ts';
import {
  type FailureNote,
  type FailureWords,
  type Note,
  type Owner,
  type Phrasebook,
  type RowFaultNote,
  type RowFaultWords,
  speaker,
  type WildFeature,
} from './notes.ts';

const owner = (station: Owner): string => (station === null ? 'Hub' : `Station ${station}`);
const lineList = (lines: readonly number[], count: number): string =>
  `${count === 1 ? 'line' : 'lines'} ${lines.join(', ')}${count > lines.length ? ' …' : ''}`;

/** Wild points in words: `point 3 (1.2 mm) of SEAT`. */
export function wildWords(features: readonly WildFeature[]): string {
  return features
    .map(({ feature, points, more }) => {
      const named = points.map(({ point, off }) => `point ${point} (${off.toFixed(1)} mm)`).join(', ');
      return `${named}${more > 0 ? ` and ${more} more` : ''} of ${feature}`;
    })
    .join('; ');
}

export const english: Phrasebook = {
  failures: englishFailures,
  rowFaults: englishRowFaults,
  notes: {
    'no-points-of-station': () => 'The file has no points of this station.',
    'station-failed': ({ feature, failure }, say) => {
      const { message, remedy } = say.failure(failure);
      return `${feature === null ? '' : `${feature}: `}${message}${remedy === '' ? '' : ` ${remedy}`}`;
    },
    'station-unreadable': ({ row, more }, say) =>
      say.note(row).replace(/\.$/, '') +
      (more > 0 ? ` (and ${more} more such ${more === 1 ? 'row' : 'rows'} of this station)` : ''),
    'feature-excluded': ({ feature, reason }) => `All points of ${feature} are excluded by hand: ${reason}`,

    'unreadable-row': ({ file, line, column, found, fault }, say) => {
      const { says, expected, remedy } = say.rowFault(fault);
      return `${file}, line ${line}, column ${column}: ${says}: found "${found}", expected ${expected}; ${remedy}.`;
    },
    'unreadable-cell': ({ column, fault }, say) => `column ${column}: ${say.rowFault(fault).says}`,
    'station-set-aside': ({ station, line }) =>
      `station ${station} is left out because line ${line} cannot be read`,
    'station-cell-empty': ({ feature }) => `the station is empty, but ${feature} is a feature of a blade`,
    'unknown-station': ({ station, last }) =>
      `station "${station}" is not in the plan (stations 1 to ${last})`,
    'hub-feature-at-station': ({ feature, station }) =>
      `${feature} is a feature of the hub, but the row names station ${station} (hub rows leave the station empty)`,
    'unknown-feature': ({ owner: whose, feature, near, known }) =>
      `${whose} feature "${feature}" is not in the plan ` +
      (near === null ? `(it has ${known.join(', ')})` : `(did you mean "${near}"?)`),
    'by-hand': ({ reason }) => `excluded by hand: ${reason}`,

    'unit-contradicts-size': ({ file, source, stated, fits }) =>
      `${file}: the ${source} says ${stated}, but the size of the coordinates fits ${fits}.`,
    'unit-of-plan-taken': ({ file, header, planned }) =>
      `${file}: the header says ${header}; ${planned} is taken, as the plan says.`,
    'unit-unknown': ({ file }) =>
      `${file}: the length unit is stated nowhere, and the size of the coordinates fits none; mm is taken. State import.unit in the plan.`,
    'rows-left-out': ({ file, count, lines, reason }, say) =>
      `${file}: ${count} ${count === 1 ? 'row is' : 'rows are'} left out: ${reason === null ? 'they cannot be read' : say.note(reason)} (${lineList(lines, count)}).`,
    'points-left-out': ({ file, count, lines, reason }, say) =>
      `${file}: ${count} ${count === 1 ? 'point is' : 'points are'} ${say.note(reason)} (${lineList(lines, count)}).`,
    'unknown-direction': ({ file, text, line, more }) =>
      `${file}: the direction "${text}" (line ${line}${more > 0 ? `, and ${more} more` : ''}) is none that is known (up or down, + or -, cw or ccw); such points count as approached from no stated side.`,
    'idle-exclusion': ({ file, feature, station, planned }) =>
      `${file}: leaving out ${feature} of ${station === null ? 'the hub' : `station ${station}`} changes nothing: ${planned ? 'the file has no points of it' : 'the plan does not use it'}.`,

    'no-uncertainty': ({ stations }) =>
      `No uncertainty for station ${stations.join(', ')}: nothing is stated about the points and the fits leave no residuals to judge by. State "uncertainty": { "probing": … } in the plan.`,
    'no-probing': () =>
      'The plan states no "uncertainty": { "probing": … } and the file no sigma: uncertainties come from the residuals of the fits alone and know nothing of the machine.',
    'temperature-spread': ({ station, feature, spread }, { fixed }) =>
      `${owner(station)}, ${feature}: temperatures differ by ${fixed(spread, 2)} K over the feature; their mean is used.`,
    'hub-datum-off': ({ datum, features, off }, { fixed }) =>
      `Hub datum ${datum} (${features.join(', ')}) lies ${fixed(off, 2)} mm from its nominal place: check its nominal point in the plan.`,
    'wild-points': ({ station, features }) =>
      `${owner(station)}: far from the others of their feature lie ${wildWords(features)}. They are used: check them.`,
    'rough-feature': ({ station, feature, type, points, form }, { fixed }) =>
      `${owner(station)}, ${feature}: its ${points} points spread over ${fixed(form, 3)} mm about their ${type}, more than twice the position tolerance.`,
    'inward-normals': ({ station, feature, datum, tips }) =>
      `${owner(station)}, ${feature}: the normals i, j, k point into the material by the plan's nominal direction and side.${tips ? ' Tip compensation follows them and is then wrong by two tip radii.' : ''} Check the export, or "side" and "material" of datum ${datum}.`,
    'screened-points': ({ station, feature, points, more, total, excluded }, { fixed }) => {
      const named = points
        .map(({ point, distance }) => `point ${point} (${fixed(distance, 4)} mm)`)
        .join(', ');
      const fate = excluded
        ? `left out, as the plan asks: ${total} in all`
        : 'used: check them, or let the plan leave them out';
      return `${owner(station)}, ${feature}: the robust screen flags ${named}${more > 0 ? ` and ${more} more` : ''}, counted in file order; ${fate}.`;
    },

    'too-few-for-diagnosis': ({ needed, whole }) =>
      `No diagnosis: causes need ${needed} stations with all six errors, here are ${whole}.`,
    'causes-undetermined': () => 'No diagnosis: the stations do not determine the causes.',
    'not-in-diagnosis': ({ stations }) =>
      `Station ${stations.join(', ')} takes no part in the diagnosis: not all six errors were observed.`,
    'scatter-unknown': () =>
      'Nothing is known of the measurement uncertainty: scatter and measurement cannot be told apart.',
    'mean-uncertainty': ({ stations }) =>
      `Station ${stations.join(', ')} has no uncertainty of its own and takes the mean of the others.`,
    'hub-uncertainty-unknown': () =>
      'Nothing is known of the uncertainty of the hub frame: it may make a ring shift or a common offset.',

    'no-welds-file': () => 'no welds file was given.',
    'welds-lack-stations': ({ stations }) =>
      `the welds file lacks ${stations.length === 1 ? 'station' : 'stations'} ${listed(stations.map(String))}.`,
    'welds-lack-many': ({ missing, measured }) =>
      `the welds file lacks ${missing} of the ${measured} measured stations.`,
    'welds-name-no-tool': () => 'the welds file names no tool.',
    'one-tool': () => 'one tool made all welds.',
    'one-weld-a-tool': () => 'no tool made more than one of the measured welds.',
    'cause-not-separable': () => 'the measured stations cannot tell it from the causes before it.',
    'too-few-for-cause': () => 'too few stations were measured for so many causes.',
  },
};

const say = speaker(english, {
  fixed: (value, decimals) => value.toFixed(decimals),
  brief: (value) => String(Number(value.toPrecision(4))),
});

/** The sentence of the result document. */
export function sentenceOf(note: Note): string {
  return say.note(note);
}

/** Message and remedy of a failure. */
export function failureWords(note: FailureNote): FailureWords {
  return say.failure(note);
}

/** What is wrong with a row, what was expected and what to do. */
export function rowFaultWords(note: RowFaultNote): RowFaultWords {
  return say.rowFault(note);
}
