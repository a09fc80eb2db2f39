/** Failures of the mathematics in French: what failed, and what to do. */
import type { ReductionFailure } from '../../../../shared-math/errors.ts';
import type { Degeneracy, Fitted, Phrasebook } from '../../../../shared-math/notes/notes.ts';

interface Noun {
  /** With the definite and the indefinite article. */
  readonly the: string;
  readonly a: string;
  readonly plural: string;
  readonly feminine?: true;
}

const NOUNS: Readonly<Record<Fitted, Noun>> = {
  plane: { the: 'le plan', a: 'un plan', plural: 'plans' },
  line: { the: 'la droite', a: 'une droite', plural: 'droites', feminine: true },
  circle: { the: 'le cercle', a: 'un cercle', plural: 'cercles' },
  sphere: { the: 'la sphère', a: 'une sphère', plural: 'sphères', feminine: true },
  cylinder: { the: 'le cylindre', a: 'un cylindre', plural: 'cylindres' },
  cone: { the: 'le cône', a: 'un cône', plural: 'cônes' },
  point: { the: 'le point', a: 'un point', plural: 'points' },
  midplane: { the: 'le plan médian', a: 'un plan médian', plural: 'plans médians' },
  face: {
    the: 'chaque face du plan médian',
    a: 'chaque face d’un plan médian',
    plural: 'faces',
    feminine: true,
  },
  feature: { the: 'l’élément', a: 'l’élément', plural: 'éléments' },
  normal: {
    the: 'la normale commune du plan médian',
    a: 'la normale commune d’un plan médian',
    plural: 'normales',
    feminine: true,
  },
  'circle-plane': { the: 'le plan du cercle', a: 'le plan d’un cercle', plural: 'plans' },
};

const DEGENERATE: Readonly<Record<Degeneracy, (noun: Noun) => readonly [string, string]>> = {
  'same-place': () => ['tous les points sont au même endroit', 'répartir les points'],
  'one-line': () => ['tous les points sont sur une droite', 'ajouter des points hors de cette droite'],
  'one-plane': () => ['tous les points sont dans un plan', 'ajouter des points hors de ce plan'],
  'line-along-direction': () => [
    'vus selon la direction, tous les points sont sur une droite',
    'vérifier cette direction',
  ],
  'several-around': ({ plural }) => [
    `plusieurs ${plural} conviennent autant`,
    'répartir les points le long et autour de l’élément',
  ],
  'several-out': ({ plural }) => [`plusieurs ${plural} conviennent autant`, 'répartir les points'],
  'no-taper': () => ['les points ne montrent aucune conicité', 'le traiter comme un cylindre s’il en est un'],
  'not-surrounded': () => [
    'les points n’entourent pas le centre, si bien que l’élément glisse entre eux',
    'répartir les points sur plus d’un demi-tour',
  ],
  'far-optimum': () => [
    'l’optimum n’est pas au voisinage de l’élément des moindres carrés',
    'répartir les points sur une plus grande partie',
  ],
  alike: () => [
    'les points se répartissent de même dans toutes les directions',
    'rester sur une seule surface',
  ],
  'no-effect': () => ['la direction ne change pas les distances', 'répartir les points'],
  'no-main-direction': () => [
    'les points n’ont pas de direction principale',
    'les répartir le long de la droite',
  ],
};

/** Failures that no station is usually missing for, by their kind. */
const KINDS: Readonly<Record<ReductionFailure, string>> = {
  'too-few-points': 'Il y a trop peu de points.',
  'degenerate-points': 'Les points ne déterminent pas l’élément.',
  'not-finite': 'Une valeur n’est pas un nombre fini.',
  'not-converged': 'Un calcul n’a pas convergé.',
  'missing-feature': 'Un élément n’a aucun point.',
  'missing-side': 'Le plan de contrôle n’indique pas de quel côté se trouve la matière.',
  'missing-normals': 'Les centres de bille ne peuvent être corrigés sans normales.',
  'mixed-probe-radius': 'Les points ont été palpés avec des rayons de bille différents.',
  'open-freedom': 'Le système de références laisse des degrés de liberté ouverts.',
  'redundant-datum': 'Une référence ne bloque aucun degré de liberté.',
  alignment: 'La position du disque ne peut être déterminée.',
  'invalid-definition': 'Le plan de contrôle se contredit.',
  'invalid-argument': 'Une valeur est hors du domaine admis.',
};

const capital = (text: string): string => text.slice(0, 1).toUpperCase() + text.slice(1);
const sideOf = (datum: string): string =>
  `Indiquer "side": "inside" (alésage) ou "side": "outside" (arbre) pour la référence spécifiée ${datum}`;
const CHECK_POINTS =
  'Vérifier que les points appartiennent à cet élément et que ses valeurs nominales sont justes.';

export const frFailures: Phrasebook['failures'] = {
  'feature-without-points': ({ station, feature, datum }) => ({
    message: `${station === null ? 'Le moyeu' : `La station ${station}`} n’a aucun point de l’élément ${feature} (référence spécifiée ${datum}).`,
    remedy: 'Mesurer l’élément, ou corriger son nom dans le fichier ou dans le plan de contrôle.',
  }),
  'too-few-points': ({ what, needed, found }) => ({
    message: `Pour ${NOUNS[what].a}, il faut au moins ${needed} ${needed === 1 ? 'point' : 'points'}\u00a0; il y en a ${found}.`,
    remedy: 'Mesurer davantage de points sur cet élément, ou le retirer du plan de contrôle.',
  }),
  'too-few-on-faces': ({ needed, found }) => ({
    message: `Pour un plan médian, il faut au moins ${needed} points sur ses deux faces\u00a0; il y en a ${found}.`,
    remedy: 'Mesurer davantage de points sur ces faces.',
  }),
  degenerate: ({ what, by, why }) => {
    const noun = NOUNS[what];
    const [lack, remedy] = DEGENERATE[why](noun);
    const criterion =
      by === null
        ? ''
        : by === 'criterion'
          ? ', selon ce critère,'
          : `, selon le critère ${noun.feminine ? 'maximale inscrite' : 'maximal inscrit'},`;
    return {
      message: `${capital(noun.the)}${criterion} n’est pas ${noun.feminine ? 'déterminée' : 'déterminé'} par ses points\u00a0: ${lack}.`,
      remedy: `Mesurer de nouveau et ${remedy}.`,
    };
  },
  'directions-not-settled': ({ what }) => ({
    message: `L’ajustement du ${what === 'cone' ? 'cône' : 'cylindre'} n’a convergé depuis aucune direction de départ.`,
    remedy: CHECK_POINTS,
  }),
  'fit-not-settled': () => ({ message: 'L’ajustement n’a pas convergé.', remedy: CHECK_POINTS }),
  'contacts-uncertain': () => ({
    message: 'Les points de contact de l’élément n’ont pu être établis avec certitude.',
    remedy: 'Mesurer davantage de points répartis sur l’élément, ou l’associer par moindres carrés.',
  }),
  'exchange-endless': () => ({
    message: 'L’échange des points de contact n’a pas abouti.',
    remedy: 'Vérifier que les points n’ont pas de coordonnées répétées ou endommagées.',
  }),
  'tips-without-side': ({ what }) => ({
    message: `${what === 'line' ? 'Une droite' : 'Un point'} n’a pas de côté, si bien que le rayon de bille des centres palpés ne peut être retiré après l’ajustement.`,
    remedy: 'Exporter cet élément avec les normales à la surface, ou en points de surface.',
  }),
  'side-unknown': ({ datum, feature }) => ({
    message: `La référence spécifiée ${datum} (${feature}) a des centres de bille sans normales, et le plan de contrôle n’indique pas de quel côté se trouve la matière.`,
    remedy: `${sideOf(datum)}, ou exporter i, j, k.`,
  }),
  'tips-without-normals': ({ datum, feature, type }) => ({
    message: `La référence spécifiée ${datum} (${feature}) est ${NOUNS[type].a}\u00a0: ses centres de bille ne peuvent être corrigés sans normales.`,
    remedy: 'Exporter i, j, k avec ces points, ou les exporter en points de surface sans rayon de bille.',
  }),
  'mixed-tips': ({ datum, features }) => ({
    message: `Les faces du plan médian ${datum} (${features.join(', ')}) ont été palpées avec des rayons de bille différents et n’ont pas de normales.`,
    remedy: 'Exporter i, j, k avec ces points, ou palper les deux faces avec la même bille.',
  }),
  'sigma-missing': ({ datum, feature }) => ({
    message: `La référence spécifiée ${datum} (${feature}) doit être pondérée par sigma, mais certains points n’ont pas de sigma supérieur à 0.`,
    remedy: 'Exporter un sigma pour chaque point de l’élément, ou omettre "weights": "sigma".',
  }),
  'outer-side-unknown': ({ datum, type }) => ({
    message: `La référence spécifiée ${datum} (${NOUNS[type].a}) doit toucher la matière de l’extérieur, et le plan de contrôle n’indique pas de quel côté se trouve la matière.`,
    remedy: `${sideOf(datum)}.`,
  }),
  'pattern-undetermined': ({ datum }) => ({
    message: `Les points du groupe ${datum} ne déterminent pas tout ce que déterminent ses éléments.`,
    remedy: 'Répartir les points sur chacun de ses éléments, par exemple sur la profondeur d’un trou.',
  }),
  'clocking-off-axis': ({ datum, features }) => ({
    message: `La référence d’orientation angulaire ${datum} (${features.join(', ')}) est plus éloignée de l’axe que le rayon de son point nominal.`,
    remedy: 'Corriger le point nominal de la référence, ou mettre "clocking" à "direction".',
  }),
  other: ({ kind }) => ({ message: KINDS[kind], remedy: '' }),
};
