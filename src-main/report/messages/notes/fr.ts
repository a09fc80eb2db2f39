/** The sentences of the result in French. */
import type { DatumType } from '../../../../shared-math/definition.ts';
import type { Owner, Phrasebook } from '../../../../shared-math/notes/notes.ts';
import { list } from '../join.ts';
import { frFailures } from './fr-failures.ts';
import { frRowFaults } from './fr-row-faults.ts';

const owner = (station: Owner): string => (station === null ? 'Moyeu' : `Station ${station}`);
const lineList = (lines: readonly number[], count: number): string =>
  `${count === 1 ? 'ligne' : 'lignes'} ${lines.join(', ')}${count > lines.length ? ' …' : ''}`;
const more = (count: number): string => (count > 0 ? ` et ${count} ${count === 1 ? 'autre' : 'autres'}` : '');
const quoted = (text: string): string => `«\u00a0${text}\u00a0»`;
const theStations = (stations: readonly number[]): string =>
  stations.length === 1
    ? `la station ${stations.join('')}`
    : `les stations ${list(stations.map(String), 'et')}`;
const capital = (text: string): string => text.slice(0, 1).toUpperCase() + text.slice(1);

/** After « distances ». */
const TO_THEIR: Readonly<Record<DatumType, string>> = {
  plane: 'à leur plan',
  line: 'à leur droite',
  circle: 'à leur cercle',
  sphere: 'à leur sphère',
  cylinder: 'à leur cylindre',
  cone: 'à leur cône',
  point: 'à leur point moyen',
  midplane: 'à leur plan médian',
  pattern: 'à leur groupe',
};

export const frNotes: Phrasebook = {
  failures: frFailures,
  rowFaults: frRowFaults,
  notes: {
    'no-points-of-station': () => 'Le fichier ne contient aucun point de cette station.',
    'station-failed': ({ feature, failure }, say) => {
      const { message, remedy } = say.failure(failure);
      return `${feature === null ? '' : `${feature}\u00a0: `}${message}${remedy === '' ? '' : ` ${remedy}`}`;
    },
    'station-unreadable': ({ row, more: others }, say) =>
      say.note(row).replace(/\.$/, '') +
      (others > 0
        ? ` (et ${others === 1 ? 'une autre ligne semblable' : `${others} autres lignes semblables`} de cette station).`
        : '.'),
    'feature-excluded': ({ feature, reason }) =>
      `Tous les points de ${feature} ont été exclus à la main\u00a0: ${quoted(reason)}`,

    'unreadable-row': ({ file, line, column, found, fault }, say) => {
      const { says, found: shown, expected, remedy } = say.rowFault(fault);
      return `${file}, ligne ${line}, colonne ${column}\u00a0: ${says}\u00a0; ${found === '' ? '' : `trouvé ${quoted(shown ?? found)}, `}attendu ${expected}\u00a0; ${remedy}.`;
    },
    'unreadable-cell': ({ column, fault }, say) => `colonne ${column}\u00a0: ${say.rowFault(fault).says}`,
    'station-set-aside': ({ station, line }) =>
      `la station ${station} est laissée de côté, car la ligne ${line} est illisible`,
    'station-cell-empty': ({ feature }) =>
      `la station n’est pas indiquée, or ${feature} est un élément d’aube`,
    'unknown-station': ({ station, last }) =>
      `la station ${quoted(station)} n’est pas dans le plan de contrôle (stations 1 à ${last})`,
    'hub-feature-at-station': ({ feature, station }) =>
      `${feature} est un élément du moyeu, mais la ligne indique la station ${station} (pour le moyeu, la station reste vide)`,
    'unknown-feature': ({ owner: whose, feature, near, known }) =>
      `l’élément ${whose === 'hub' ? 'de moyeu' : 'd’aube'} ${quoted(feature)} n’est pas dans le plan de contrôle ` +
      (near === null ? `(qui contient ${known.join(', ')})` : `(s’agit-il de ${quoted(near)}\u00a0?)`),
    'by-hand': ({ reason }) => `exclusion à la main\u00a0: ${quoted(reason)}`,

    'unit-contradicts-size': ({ file, source, stated, fits }) =>
      `${file}\u00a0: ${source === 'plan' ? 'le plan de contrôle' : 'l’en-tête'} indique ${stated}, mais la grandeur des coordonnées correspond à ${fits}.`,
    'unit-of-plan-taken': ({ file, header, planned }) =>
      `${file}\u00a0: l’en-tête indique ${header}\u00a0; ${planned} est retenu, comme l’indique le plan de contrôle.`,
    'unit-unknown': ({ file }) =>
      `${file}\u00a0: l’unité de longueur n’est indiquée nulle part, et aucune ne correspond à la grandeur des coordonnées\u00a0; mm est retenu. Indiquer import.unit dans le plan de contrôle.`,
    'rows-left-out': ({ file, count, lines, reason }, say) =>
      `${file}\u00a0: ${count} ${count === 1 ? 'ligne écartée' : 'lignes écartées'}\u00a0: ${reason === null ? (count === 1 ? 'illisible' : 'illisibles') : say.note(reason)} (${lineList(lines, count)}).`,
    'points-left-out': ({ file, count, lines, reason }, say) =>
      `${file}\u00a0: ${count} ${count === 1 ? 'point' : 'points'}, ${say.note(reason)} (${lineList(lines, count)}).`,
    'unknown-direction': ({ file, text, line, more: others }) =>
      `${file}\u00a0: le sens d’approche ${quoted(text)} (ligne ${line}${more(others)}) est inconnu (sont connus up et down, + et -, cw et ccw)\u00a0; ces points sont considérés comme mesurés sans indication du sens d’approche.`,
    'idle-exclusion': ({ file, feature, station, planned }) =>
      `${file}\u00a0: exclure ${feature} ${station === null ? 'du moyeu' : `de la station ${station}`} ne change rien\u00a0: ${planned ? 'le fichier n’en contient aucun point' : 'le plan de contrôle n’utilise pas cet élément'}.`,

    'no-uncertainty': ({ stations }) =>
      `Aucune incertitude pour ${theStations(stations)}\u00a0: rien n’est indiqué sur les points, et les ajustements ne laissent aucun résidu pour en juger. Indiquer "uncertainty": { "probing": … } dans le plan de contrôle.`,
    'no-probing': () =>
      'Le plan de contrôle ne contient pas "uncertainty": { "probing": … } et le fichier aucun sigma\u00a0: les incertitudes proviennent des seuls résidus des ajustements et ignorent tout de la machine.',
    'temperature-spread': ({ station, feature, spread }, { fixed }) =>
      `${owner(station)}, ${feature}\u00a0: les températures diffèrent de ${fixed(spread, 2)}\u00a0K sur l’élément\u00a0; leur moyenne est retenue.`,
    'hub-datum-off': ({ datum, features, off }, { fixed }) =>
      `La référence de moyeu ${datum} (${features.join(', ')}) se trouve à ${fixed(off, 2)}\u00a0mm de sa position nominale\u00a0: vérifier son point nominal dans le plan de contrôle.`,
    'wild-points': ({ station, features }, { fixed }) => {
      const groups = features.map(({ feature, points, more: others }) => {
        const named = points.map(({ point, off }) => `point ${point} (${fixed(off, 1)}\u00a0mm)`).join(', ');
        return `${named}${more(others)} de ${feature}`;
      });
      return `${owner(station)}\u00a0: loin des autres points de leur élément\u00a0: ${groups.join('\u00a0; ')}. Ils sont utilisés\u00a0; à vérifier.`;
    },
    'rough-feature': ({ station, feature, type, points, form }, { fixed }) =>
      `${owner(station)}, ${feature}\u00a0: les distances des ${points} points ${TO_THEIR[type]} s’étendent sur ${fixed(form, 3)}\u00a0mm, plus du double de la tolérance de localisation.`,
    'inward-normals': ({ station, feature, datum, tips }) =>
      `${owner(station)}, ${feature}\u00a0: d’après la direction nominale et le côté du plan de contrôle, les normales i, j, k pointent dans la matière.${tips ? ' La correction du rayon de bille les suit et est alors fausse de deux rayons.' : ''} Vérifier l’export, ou "side" et "material" de la référence spécifiée ${datum}.`,
    'screened-points': ({ station, feature, points, more: others, total, excluded }, { fixed }) => {
      const named = points
        .map(({ point, distance }) => `point ${point} (${fixed(distance, 4)}\u00a0mm)`)
        .join(', ');
      const fate = excluded
        ? `écartés comme le demande le plan de contrôle, ${total} en tout`
        : 'utilisés\u00a0; à vérifier, ou à écarter par le plan de contrôle';
      return `${owner(station)}, ${feature}\u00a0: le filtre robuste signale ${named}${more(others)}, comptés dans l’ordre du fichier\u00a0; ${fate}.`;
    },

    'too-few-for-diagnosis': ({ needed, whole }) =>
      `Pas d’analyse des causes\u00a0: il faut ${needed} stations avec les six écarts, il y en a ${whole}.`,
    'causes-undetermined': () =>
      'Pas d’analyse des causes\u00a0: les stations ne déterminent pas les causes.',
    'not-in-diagnosis': ({ stations }) =>
      `${capital(theStations(stations))} ${stations.length === 1 ? 'n’entre' : 'n’entrent'} pas dans l’analyse des causes\u00a0: les six écarts n’ont pas tous été observés.`,
    'scatter-unknown': () =>
      'Rien n’est connu de l’incertitude de mesure\u00a0: dispersion et mesure ne peuvent être distinguées.',
    'mean-uncertainty': ({ stations }) =>
      `${capital(theStations(stations))} ${stations.length === 1 ? 'n’a' : 'n’ont'} pas d’incertitude propre\u00a0; la moyenne des autres est retenue.`,
    'hub-uncertainty-unknown': () =>
      'Rien n’est connu de l’incertitude du repère du moyeu\u00a0: elle peut simuler un décalage de la couronne ou un écart commun.',

    'no-welds-file': () => 'aucun relevé des soudures n’a été fourni.',
    'welds-lack-stations': ({ stations }) =>
      `${theStations(stations)} ${stations.length === 1 ? 'manque' : 'manquent'} dans le relevé des soudures.`,
    'welds-lack-many': ({ missing, measured }) =>
      `${missing} des ${measured} stations mesurées manquent dans le relevé des soudures.`,
    'welds-name-no-tool': () => 'le relevé des soudures ne nomme aucun outil.',
    'one-tool': () => 'toutes les soudures ont été faites avec un seul outil.',
    'one-weld-a-tool': () => 'aucun outil n’a fait plus d’une des soudures mesurées.',
    'cause-not-separable': () =>
      'les stations mesurées ne permettent pas de la séparer de celles qui la précèdent.',
    'too-few-for-cause': () => 'trop peu de stations ont été mesurées pour tant de causes.',
  },
};
