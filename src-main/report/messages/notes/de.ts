/** The sentences of the result in German. */
import type { DatumType } from '../../../../shared-math/definition.ts';
import type { Owner, Phrasebook } from '../../../../shared-math/notes/notes.ts';
import { list } from '../join.ts';
import { deFailures } from './de-failures.ts';
import { deRowFaults } from './de-row-faults.ts';

const owner = (station: Owner): string => (station === null ? 'Nabe' : `Station ${station}`);
const stationList = (stations: readonly number[]): string =>
  `${stations.length === 1 ? 'Station' : 'Stationen'} ${stations.join(', ')}`;
const lineList = (lines: readonly number[], count: number): string =>
  `${count === 1 ? 'Zeile' : 'Zeilen'} ${lines.join(', ')}${count > lines.length ? ' …' : ''}`;
const more = (count: number): string => (count > 0 ? ` und ${count} weitere` : '');
const quoted = (text: string): string => `„${text}“`;

/** In the dative, after „von ihrer“ or „von ihrem“. */
const FROM_THEIR: Readonly<Record<DatumType, string>> = {
  plane: 'von ihrer Ebene',
  line: 'von ihrer Geraden',
  circle: 'von ihrem Kreis',
  sphere: 'von ihrer Kugel',
  cylinder: 'von ihrem Zylinder',
  cone: 'von ihrem Kegel',
  point: 'von ihrem Mittelpunkt',
  midplane: 'von ihrer Mittelebene',
  pattern: 'von ihrem Muster',
};

export const deNotes: Phrasebook = {
  failures: deFailures,
  rowFaults: deRowFaults,
  notes: {
    'no-points-of-station': () => 'Die Datei enthält keine Punkte dieser Station.',
    'station-failed': ({ feature, failure }, say) => {
      const { message, remedy } = say.failure(failure);
      return `${feature === null ? '' : `${feature}: `}${message}${remedy === '' ? '' : ` ${remedy}`}`;
    },
    'station-unreadable': ({ row, more: others }, say) =>
      say.note(row).replace(/\.$/, '') +
      (others > 0
        ? ` (${others === 1 ? 'und eine weitere solche Zeile' : `und ${others} weitere solche Zeilen`} dieser Station).`
        : '.'),
    'feature-excluded': ({ feature, reason }) =>
      `Alle Punkte von ${feature} sind von Hand ausgeschlossen: ${quoted(reason)}`,

    'unreadable-row': ({ file, line, column, found, fault }, say) => {
      const { says, found: shown, expected, remedy } = say.rowFault(fault);
      return `${file}, Zeile ${line}, Spalte ${column}: ${says}; ${found === '' ? '' : `gefunden ${quoted(shown ?? found)}, `}erwartet ${expected}; ${remedy}.`;
    },
    'unreadable-cell': ({ column, fault }, say) => `Spalte ${column}: ${say.rowFault(fault).says}`,
    'station-set-aside': ({ station, line }) =>
      `Station ${station} bleibt außer Betracht, weil Zeile ${line} nicht lesbar ist`,
    'station-cell-empty': ({ feature }) =>
      `die Angabe der Station fehlt, aber ${feature} ist ein Element einer Schaufel`,
    'unknown-station': ({ station, last }) =>
      `Station ${quoted(station)} steht nicht im Prüfplan (Stationen 1 bis ${last})`,
    'hub-feature-at-station': ({ feature, station }) =>
      `${feature} ist ein Element der Nabe, die Zeile nennt aber Station ${station} (bei der Nabe bleibt die Station leer)`,
    'unknown-feature': ({ owner: whose, feature, near, known }) =>
      `${whose === 'hub' ? 'Nabenelement' : 'Schaufelelement'} ${quoted(feature)} steht nicht im Prüfplan ` +
      (near === null ? `(er enthält ${known.join(', ')})` : `(ist ${quoted(near)} gemeint?)`),
    'by-hand': ({ reason }) => `von Hand ausgeschlossen: ${quoted(reason)}`,

    'unit-contradicts-size': ({ file, source, stated, fits }) =>
      `${file}: Laut ${source === 'plan' ? 'Prüfplan' : 'Kopfzeile'} gilt ${stated}, zur Größe der Koordinaten passt aber ${fits}.`,
    'unit-of-plan-taken': ({ file, header, planned }) =>
      `${file}: Die Kopfzeile nennt ${header}; verwendet wird ${planned}, wie im Prüfplan angegeben.`,
    'unit-unknown': ({ file }) =>
      `${file}: Die Längeneinheit ist nirgends angegeben, und zur Größe der Koordinaten passt keine; mm wird angenommen. import.unit im Prüfplan angeben.`,
    'rows-left-out': ({ file, count, lines, reason }, say) =>
      `${file}: ${count} ${count === 1 ? 'Zeile' : 'Zeilen'} ausgelassen: ${reason === null ? 'nicht lesbar' : say.note(reason)} (${lineList(lines, count)}).`,
    'points-left-out': ({ file, count, lines, reason }, say) =>
      `${file}: ${count} ${count === 1 ? 'Punkt' : 'Punkte'} ${say.note(reason)} (${lineList(lines, count)}).`,
    'unknown-direction': ({ file, text, line, more: others }) =>
      `${file}: Die Anfahrrichtung ${quoted(text)} (Zeile ${line}${more(others)}) ist unbekannt (bekannt sind up und down, + und -, cw und ccw); solche Punkte gelten als ohne Angabe der Anfahrrichtung gemessen.`,
    'idle-exclusion': ({ file, feature, station, planned }) =>
      `${file}: ${feature} ${station === null ? 'der Nabe' : `der Station ${station}`} auszuschließen ändert nichts: ${planned ? 'Die Datei enthält keine Punkte davon' : 'Der Prüfplan verwendet das Element nicht'}.`,

    'no-uncertainty': ({ stations }) =>
      `Keine Messunsicherheit für ${stationList(stations)}: Zu den Punkten ist nichts angegeben, und die Einpassungen lassen keine Residuen übrig, nach denen sie zu beurteilen wäre. "uncertainty": { "probing": … } im Prüfplan angeben.`,
    'no-probing': () =>
      'Der Prüfplan enthält kein "uncertainty": { "probing": … } und die Datei kein sigma: Die Messunsicherheiten folgen allein aus den Residuen der Einpassungen und wissen nichts vom Messgerät.',
    'temperature-spread': ({ station, feature, spread }, { fixed }) =>
      `${owner(station)}, ${feature}: Die Temperaturen unterscheiden sich am Element um ${fixed(spread, 2)}\u00a0K; verwendet wird ihr Mittelwert.`,
    'hub-datum-off': ({ datum, features, off }, { fixed }) =>
      `Nabenbezug ${datum} (${features.join(', ')}) liegt ${fixed(off, 2)}\u00a0mm von seiner Nennlage entfernt: seinen Nennpunkt im Prüfplan prüfen.`,
    'wild-points': ({ station, features }, { fixed }) => {
      const groups = features.map(({ feature, points, more: others }) => {
        const named = points.map(({ point, off }) => `Punkt ${point} (${fixed(off, 1)}\u00a0mm)`).join(', ');
        return `${named}${more(others)} von ${feature}`;
      });
      return `${owner(station)}: Weit entfernt von den übrigen ihres Elements: ${groups.join('; ')}. Sie werden verwendet und sind zu prüfen.`;
    },
    'rough-feature': ({ station, feature, type, points, form }, { fixed }) =>
      `${owner(station)}, ${feature}: Die Abstände der ${points} Punkte ${FROM_THEIR[type]} streuen über ${fixed(form, 3)}\u00a0mm, mehr als das Doppelte der Positionstoleranz.`,
    'inward-normals': ({ station, feature, datum, tips }) =>
      `${owner(station)}, ${feature}: Nach Nennrichtung und Seite des Prüfplans zeigen die Normalen i, j, k in den Werkstoff.${tips ? ' Die Tasterradiuskorrektur folgt ihnen und ist dann um zwei Tasterradien falsch.' : ''} Den Export oder "side" und "material" des Bezugs ${datum} prüfen.`,
    'screened-points': ({ station, feature, points, more: others, total, excluded }, { fixed }) => {
      const named = points
        .map(({ point, distance }) => `Punkt ${point} (${fixed(distance, 4)}\u00a0mm)`)
        .join(', ');
      const fate = excluded
        ? `nach Prüfplan ausgelassen, insgesamt ${total}`
        : 'verwendet; prüfen oder im Prüfplan auslassen';
      return `${owner(station)}, ${feature}: Der robuste Filter markiert ${named}${more(others)}, gezählt in der Reihenfolge der Datei; ${fate}.`;
    },

    'too-few-for-diagnosis': ({ needed, whole }) =>
      `Keine Ursachenanalyse: Sie braucht ${needed} Stationen mit allen sechs Abweichungen, hier sind es ${whole}.`,
    'causes-undetermined': () => 'Keine Ursachenanalyse: Die Stationen bestimmen die Ursachen nicht.',
    'not-in-diagnosis': ({ stations }) =>
      `${list(
        stations.map((station) => `Station ${station}`),
        'und',
      )} ${stations.length === 1 ? 'nimmt' : 'nehmen'} an der Ursachenanalyse nicht teil: Nicht alle sechs Abweichungen wurden bestimmt.`,
    'scatter-unknown': () =>
      'Über die Messunsicherheit ist nichts bekannt: Streuung und Messung lassen sich nicht trennen.',
    'mean-uncertainty': ({ stations }) =>
      `${list(
        stations.map((station) => `Station ${station}`),
        'und',
      )} ${stations.length === 1 ? 'hat' : 'haben'} keine eigene Messunsicherheit; angesetzt ist das Mittel der übrigen.`,
    'hub-uncertainty-unknown': () =>
      'Über die Messunsicherheit des Nabenkoordinatensystems ist nichts bekannt: Sie kann einen Versatz des Rings oder eine gemeinsame Abweichung vortäuschen.',

    'no-welds-file': () => 'Es wurde kein Schweißprotokoll angegeben.',
    'welds-lack-stations': ({ stations }) =>
      `Im Schweißprotokoll ${stations.length === 1 ? 'fehlt Station' : 'fehlen die Stationen'} ${list(stations.map(String), 'und')}.`,
    'welds-lack-many': ({ missing, measured }) =>
      `Im Schweißprotokoll fehlen ${missing} der ${measured} gemessenen Stationen.`,
    'welds-name-no-tool': () => 'Das Schweißprotokoll nennt kein Werkzeug.',
    'one-tool': () => 'Alle Schweißungen wurden mit einem einzigen Werkzeug ausgeführt.',
    'one-weld-a-tool': () => 'Kein Werkzeug hat mehr als eine der gemessenen Schweißungen ausgeführt.',
    'cause-not-separable': () =>
      'An den gemessenen Stationen lässt sich der Anteil von den vorhergehenden nicht trennen.',
    'too-few-for-cause': () => 'Für so viele Ursachen wurden zu wenige Stationen gemessen.',
  },
};
