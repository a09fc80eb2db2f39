/** What is wrong with a row of a point file, in French. Examples keep the decimal sign of the file. */
import type { DecimalSign, Phrasebook } from '../../../../shared-math/notes/notes.ts';

const example = (decimal: DecimalSign): string => (decimal === '.' ? '12.345' : '12,345');
const signName = (decimal: DecimalSign): string => (decimal === ',' ? 'virgule décimale' : 'point décimal');
const otherSign = (decimal: DecimalSign): DecimalSign => (decimal === '.' ? ',' : '.');
const number = (decimal: DecimalSign): string => `un nombre tel que ${example(decimal)}`;

const WANTED = {
  normal: 'une normale à la surface, comme aux autres points de cet élément',
  'no-normal': 'aucune normale à la surface, comme aux autres points de cet élément',
  value: 'une valeur, comme aux autres points de cet élément',
  'empty-cell': 'une cellule vide, comme aux autres points de cet élément',
} as const;

export const frRowFaults: Phrasebook['rowFaults'] = {
  'empty-cell': ({ decimal }) => ({
    says: 'la cellule est vide',
    expected: number(decimal),
    remedy: 'la remplir ou retirer la ligne',
  }),
  'no-finite-number': ({ decimal }) => ({
    says: 'ce n’est pas un nombre fini',
    expected: `un nombre fini tel que ${example(decimal)}`,
    remedy: 'mesurer le point de nouveau ou retirer la ligne',
  }),
  'number-too-large': ({ decimal }) => ({
    says: 'ce nombre est trop grand',
    expected: `un nombre fini tel que ${example(decimal)}`,
    remedy: 'corriger la cellule',
  }),
  'other-decimal-sign': ({ decimal, fromPlan }) => ({
    says: `${signName(otherSign(decimal))} au lieu ${decimal === ',' ? 'de la' : 'du'} ${signName(decimal)} ${fromPlan ? 'que demande le plan de contrôle' : 'du reste du fichier'}`,
    expected: number(decimal),
    remedy: fromPlan
      ? `écrire le nombre avec l’autre signe, ou mettre import.decimal à "${otherSign(decimal)}"`
      : 'écrire tous les nombres avec le même signe',
  }),
  'grouped-number': ({ decimal }) => ({
    says: 'le nombre a des séparateurs de milliers ou plus d’un signe décimal',
    expected: `${number(decimal)}, sans groupement`,
    remedy: 'exporter sans séparateurs de milliers',
  }),
  'dash-for-minus': ({ decimal }) => ({
    says: 'le signe moins est un tiret',
    expected: `un nombre tel que -${example(decimal)}`,
    remedy: 'utiliser le signe moins ordinaire',
  }),
  'no-number': ({ decimal }) => ({
    says: 'ce n’est pas un nombre',
    expected: number(decimal),
    remedy: 'corriger la cellule ou retirer la ligne',
  }),
  'no-unit-normal': ({ length }, { brief }) => ({
    says: 'i, j, k n’est pas une normale unitaire',
    found: `longueur ${brief(length)}`,
    expected: 'longueur 1 à 1 % près',
    remedy: 'exporter des normales unitaires, ou omettre i, j, k',
  }),
  'points-differ': ({ wanted }) => ({
    says: 'les points d’un même élément n’indiquent pas les mêmes données',
    expected: WANTED[wanted],
    remedy: 'remplir la cellule pour tous les points de l’élément ou pour aucun',
  }),
  'temperature-range': ({ coldest, hottest }) => ({
    says: 'aucune pièce ne se mesure à cette température',
    expected: `une température de pièce de ${coldest} à ${hottest} °C`,
    remedy:
      'corriger la cellule, ou omettre la colonne et indiquer temperature.part dans le plan de contrôle',
  }),
  'negative-radius': () => ({
    says: 'une bille de palpeur n’a pas de rayon négatif',
    expected: 'un nombre non inférieur à 0',
    remedy: 'corriger la cellule, ou omettre la colonne',
  }),
  'sigma-not-positive': () => ({
    says: 'une incertitude-type est positive',
    expected: 'un nombre supérieur à 0',
    remedy: 'corriger la cellule, ou omettre la colonne',
  }),
  'row-too-short': ({ cells, of }) => ({
    says: `la ligne s’arrête après ${cells} ${cells < 2 ? 'cellule' : 'cellules'}`,
    expected: `${of} cellules`,
    remedy: 'compléter la ligne ou la retirer',
  }),
  'row-too-long': ({ cells, of }) => ({
    says: `la ligne a ${cells} cellules`,
    expected: `${of} cellules`,
    remedy:
      'chercher une virgule décimale ou un texte contenant le séparateur, et mettre un tel texte entre guillemets',
  }),
};
