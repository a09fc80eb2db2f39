/** Failures of the mathematics in German: what failed, and what to do. */
import type { ReductionFailure } from '../../../../shared-math/errors.ts';
import type { Degeneracy, Fitted, Phrasebook } from '../../../../shared-math/notes/notes.ts';

interface Noun {
  /** With the definite and the indefinite article, nominative. */
  readonly the: string;
  readonly a: string;
  readonly plural: string;
}

const NOUNS: Readonly<Record<Fitted, Noun>> = {
  plane: { the: 'die Ebene', a: 'eine Ebene', plural: 'Ebenen' },
  line: { the: 'die Gerade', a: 'eine Gerade', plural: 'Geraden' },
  circle: { the: 'der Kreis', a: 'ein Kreis', plural: 'Kreise' },
  sphere: { the: 'die Kugel', a: 'eine Kugel', plural: 'Kugeln' },
  cylinder: { the: 'der Zylinder', a: 'ein Zylinder', plural: 'Zylinder' },
  cone: { the: 'der Kegel', a: 'ein Kegel', plural: 'Kegel' },
  point: { the: 'der Punkt', a: 'ein Punkt', plural: 'Punkte' },
  midplane: { the: 'die Mittelebene', a: 'eine Mittelebene', plural: 'Mittelebenen' },
  face: { the: 'jede Fläche der Mittelebene', a: 'jede Fläche einer Mittelebene', plural: '' },
  feature: { the: 'das Element', a: 'das Element', plural: 'Elemente' },
  normal: {
    the: 'die gemeinsame Normale der Mittelebene',
    a: 'die gemeinsame Normale einer Mittelebene',
    plural: '',
  },
  'circle-plane': { the: 'die Ebene des Kreises', a: 'die Ebene eines Kreises', plural: '' },
};

const DEGENERATE: Readonly<Record<Degeneracy, (noun: Noun) => readonly [string, string]>> = {
  'same-place': () => ['alle Punkte liegen an derselben Stelle', 'die Punkte verteilen'],
  'one-line': () => ['alle Punkte liegen auf einer Geraden', 'Punkte abseits dieser Geraden aufnehmen'],
  'one-plane': () => ['alle Punkte liegen in einer Ebene', 'Punkte abseits dieser Ebene aufnehmen'],
  'line-along-direction': () => [
    'längs der Richtung gesehen liegen alle Punkte auf einer Geraden',
    'diese Richtung prüfen',
  ],
  'several-around': ({ plural }) => [
    `mehrere ${plural} passen gleich gut`,
    'die Punkte längs des Elements und um es herum verteilen',
  ],
  'several-out': ({ plural }) => [`mehrere ${plural} passen gleich gut`, 'die Punkte verteilen'],
  'no-taper': () => ['die Punkte zeigen keine Verjüngung', 'gegebenenfalls als Zylinder behandeln'],
  'not-surrounded': () => [
    'die Punkte umschließen den Mittelpunkt nicht, sodass das Element zwischen ihnen ausweicht',
    'die Punkte über mehr als den halben Umfang verteilen',
  ],
  'far-optimum': () => [
    'das Optimum liegt nicht in der Nähe des Elements nach kleinsten Quadraten',
    'die Punkte über einen größeren Teil verteilen',
  ],
  alike: () => ['die Punkte streuen in alle Richtungen gleich', 'auf einer Fläche bleiben'],
  'no-effect': () => ['die Richtung ändert die Abstände nicht', 'die Punkte verteilen'],
  'no-main-direction': () => ['die Punkte haben keine Hauptrichtung', 'sie längs der Geraden verteilen'],
};

/** Failures that no station is usually missing for, by their kind. */
const KINDS: Readonly<Record<ReductionFailure, string>> = {
  'too-few-points': 'Es gibt zu wenige Punkte.',
  'degenerate-points': 'Die Punkte bestimmen das Element nicht.',
  'not-finite': 'Ein Zahlenwert ist nicht endlich.',
  'not-converged': 'Eine Berechnung konvergierte nicht.',
  'missing-feature': 'Ein Element hat keine Punkte.',
  'missing-side': 'Der Prüfplan gibt nicht an, auf welcher Seite der Werkstoff liegt.',
  'missing-normals': 'Tastermittelpunkte lassen sich ohne Normalen nicht korrigieren.',
  'mixed-probe-radius': 'Die Punkte wurden mit verschiedenen Tasterradien angetastet.',
  'open-freedom': 'Das Bezugssystem lässt Freiheitsgrade offen.',
  'redundant-datum': 'Ein Bezug bindet keinen Freiheitsgrad.',
  alignment: 'Die Lage der Scheibe ist nicht zu bestimmen.',
  'invalid-definition': 'Der Prüfplan ist in sich widersprüchlich.',
  'invalid-argument': 'Ein Wert liegt außerhalb des zulässigen Bereichs.',
};

const capital = (text: string): string => text.slice(0, 1).toUpperCase() + text.slice(1);
const points = (count: number): string => (count === 1 ? 'einen Punkt' : `${count} Punkte`);
const sideOf = (datum: string): string =>
  `"side": "inside" (Bohrung) oder "side": "outside" (Welle) bei Bezug ${datum} angeben`;
const CHECK_POINTS = 'Prüfen, ob die Punkte zu diesem Element gehören und seine Nennwerte stimmen.';

export const deFailures: Phrasebook['failures'] = {
  'feature-without-points': ({ station, feature, datum }) => ({
    message: `${station === null ? 'Die Nabe' : `Station ${station}`} hat keine Punkte des Elements ${feature} (Bezug ${datum}).`,
    remedy: 'Das Element messen oder seinen Namen in der Datei oder im Prüfplan berichtigen.',
  }),
  'too-few-points': ({ what, needed, found }) => ({
    message: `${capital(NOUNS[what].a)} braucht mindestens ${points(needed)}, vorhanden: ${found}.`,
    remedy: 'Mehr Punkte an diesem Element messen oder es aus dem Prüfplan nehmen.',
  }),
  'too-few-on-faces': ({ needed, found }) => ({
    message: `Eine Mittelebene braucht auf ihren beiden Flächen zusammen mindestens ${points(needed)}, vorhanden: ${found}.`,
    remedy: 'Mehr Punkte auf diesen Flächen messen.',
  }),
  degenerate: ({ what, by, why }) => {
    const noun = NOUNS[what];
    const [lack, remedy] = DEGENERATE[why](noun);
    const criterion =
      by === null
        ? ''
        : by === 'criterion'
          ? ' nach diesem Kriterium'
          : ' nach dem Kriterium „größtes einbeschriebenes Element“';
    return {
      message: `${capital(noun.the)} ist${criterion} durch die Punkte nicht bestimmt: ${lack}.`,
      remedy: `Erneut messen und ${remedy}.`,
    };
  },
  'directions-not-settled': ({ what }) => ({
    message: `Die Einpassung ${what === 'cone' ? 'des Kegels' : 'des Zylinders'} konvergierte aus keiner Anfangsrichtung.`,
    remedy: CHECK_POINTS,
  }),
  'fit-not-settled': () => ({ message: 'Die Einpassung konvergierte nicht.', remedy: CHECK_POINTS }),
  'contacts-uncertain': () => ({
    message: 'Die Berührpunkte des Elements ließen sich nicht sicher bestimmen.',
    remedy: 'Mehr über das Element verteilte Punkte messen oder es nach kleinsten Quadraten assoziieren.',
  }),
  'exchange-endless': () => ({
    message: 'Der Austausch der Berührpunkte kam zu keinem Ende.',
    remedy: 'Die Punkte auf doppelte oder beschädigte Koordinaten prüfen.',
  }),
  'tips-without-side': ({ what }) => ({
    message: `${what === 'line' ? 'Eine Gerade' : 'Ein Punkt'} hat keine Seite, sodass der Tasterradius der Tastermittelpunkte nach der Einpassung nicht abgezogen werden kann.`,
    remedy: 'Dieses Element mit Flächennormalen oder als Oberflächenpunkte exportieren.',
  }),
  'side-unknown': ({ datum, feature }) => ({
    message: `Bezug ${datum} (${feature}) hat Tastermittelpunkte ohne Normalen, und der Prüfplan gibt nicht an, auf welcher Seite der Werkstoff liegt.`,
    remedy: `${sideOf(datum)}, oder i, j, k exportieren.`,
  }),
  'tips-without-normals': ({ datum, feature, type }) => ({
    message: `Bezug ${datum} (${feature}) ist ${NOUNS[type].a}: Seine Tastermittelpunkte lassen sich ohne Normalen nicht korrigieren.`,
    remedy:
      'Mit diesen Punkten i, j, k exportieren oder sie als Oberflächenpunkte ohne Tasterradius exportieren.',
  }),
  'mixed-tips': ({ datum, features }) => ({
    message: `Die Flächen der Mittelebene ${datum} (${features.join(', ')}) wurden mit verschiedenen Tasterradien angetastet und haben keine Normalen.`,
    remedy: 'Mit diesen Punkten i, j, k exportieren oder beide Flächen mit einem Taster antasten.',
  }),
  'sigma-missing': ({ datum, feature }) => ({
    message: `Bezug ${datum} (${feature}) soll mit sigma gewichtet werden, aber nicht jeder Punkt hat ein sigma über 0.`,
    remedy: 'Für jeden Punkt des Elements ein sigma exportieren oder "weights": "sigma" weglassen.',
  }),
  'outer-side-unknown': ({ datum, type }) => ({
    message: `Bezug ${datum} (${NOUNS[type].a}) soll seinen Werkstoff von außen berühren, und der Prüfplan gibt nicht an, auf welcher Seite der Werkstoff liegt.`,
    remedy: `${sideOf(datum)}.`,
  }),
  'pattern-undetermined': ({ datum }) => ({
    message: `Die Punkte des Musters ${datum} bestimmen nicht alles, was seine Elemente bestimmen.`,
    remedy: 'Die Punkte über jedes seiner Elemente verteilen, zum Beispiel über die Tiefe einer Bohrung.',
  }),
  'clocking-off-axis': ({ datum, features }) => ({
    message: `Der Bezug ${datum} (${features.join(', ')}) für die Winkellage liegt weiter von der Achse entfernt als der Radius seines Nennpunkts.`,
    remedy: 'Den Nennpunkt des Bezugs berichtigen oder "clocking" auf "direction" setzen.',
  }),
  other: ({ kind }) => ({ message: KINDS[kind], remedy: '' }),
};
