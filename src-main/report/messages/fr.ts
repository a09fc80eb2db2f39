/** The words of the report in French, in the terms of NF EN ISO 1101, 5459, 14253-1 and of the VIM. No-break spaces stand before : ; ? and in « ». */
import { list } from './join.ts';
import type { Messages } from './messages.ts';

const and = (items: readonly string[]): string => list(items, 'et');
const plural = (count: number, one: string, many: string): string => `${count} ${count < 2 ? one : many}`;

export const fr: Messages = {
  report: 'Rapport de conformité',
  subject: 'Localisation des aubes d’un disque aubagé',
  notStated: 'non indiqué',
  continued: 'suite',
  page: 'Page',
  inch: 'pouce',
  yes: 'oui',
  no: 'non',
  and,
  serial: (serial) => `n° de série ${serial}`,
  semicolon: '\u00a0; ',
  /** Between the numbers of a vector. */
  listSeparator: '\u00a0; ',
  colon: (key, value) => `${key}\u00a0: ${value}`,

  verdicts: {
    conforming: 'conforme',
    nonconforming: 'non conforme',
    unproven: 'non démontrée',
    missing: 'manquante',
  },

  errors: {
    oscillation: 'oscillation',
    lateral: 'direction latérale',
    upset: 'refoulement',
    rotOscillation: 'rotation autour de l’axe d’oscillation',
    rotLateral: 'rotation autour de l’axe latéral',
    rotUpset: 'rotation autour de l’axe de refoulement',
    radial: 'radial',
    tangential: 'tangentiel',
    axial: 'axial',
    lean: 'inclinaison tangentielle',
    sweep: 'inclinaison axiale',
    stagger: 'calage',
  },
  errorsShort: {
    oscillation: 'Oscill.',
    lateral: 'Latéral',
    upset: 'Refoul.',
    rotOscillation: 'ρ osc.',
    rotLateral: 'ρ lat.',
    rotUpset: 'ρ ref.',
    radial: 'Radial',
    tangential: 'Tangentiel',
    axial: 'Axial',
    lean: 'Incl. tang.',
    sweep: 'Incl. ax.',
    stagger: 'Calage',
  },
  zones: { cylindrical: 'cylindrique', spherical: 'sphérique', planar: 'entre deux plans' },
  zoneSize: {
    cylindrical: (size) => `⌀\u00a0${size}`,
    spherical: (size) => `S⌀\u00a0${size}`,
    planar: (size) => `largeur ${size}`,
  },
  types: {
    plane: 'plan',
    line: 'droite',
    circle: 'cercle',
    sphere: 'sphère',
    cylinder: 'cylindre',
    cone: 'cône',
    point: 'point',
    midplane: 'plan médian',
    pattern: 'groupe',
  },
  associations: {
    gaussian: 'moindres carrés (Gauss)',
    'gaussian-outer': 'moindres carrés, déplacé au point extrême de la matière',
    minimax: 'zone minimale (Tchebychev)',
    'maximum-inscribed': 'maximal inscrit',
    'minimum-circumscribed': 'minimal circonscrit',
  },

  banner: {
    conforming: 'Conforme',
    nonconforming: 'Non conforme',
    unproven: 'Conformité non démontrée',
    missing: 'Incomplet',
    all: (count) =>
      count === 1
        ? 'La seule station prévue a été évaluée et est conforme.'
        : `Les ${count} stations prévues ont toutes été évaluées et sont conformes.`,
    counts: (of, conforming, nonconforming, unproven, missing) =>
      `Sur ${plural(of, 'station prévue', 'stations prévues')}, ${conforming === 0 ? 'aucune n’est conforme' : conforming === 1 ? '1 est conforme' : `${conforming} sont conformes`}` +
      `${nonconforming > 0 ? `, ${nonconforming} ${nonconforming === 1 ? 'n’est pas conforme' : 'ne sont pas conformes'}` : ''}` +
      `${unproven > 0 ? `, ${unproven} ${unproven === 1 ? 'n’est pas démontrée' : 'ne sont pas démontrées'}` : ''}` +
      `${missing > 0 ? `, ${missing} ${missing === 1 ? 'manque' : 'manquent'}` : ''}.`,
    worst: (position, upper, station, at, tolerance) =>
      `Localisation maximale ${position}${upper === null ? '' : ` (U\u00a0${upper})`} à la station\u00a0${station}, point de contrôle ${at}\u00a0; tolérance ${tolerance}.`,
    pattern: (verdict) => `Localisation des aubes entre elles\u00a0: ${verdict}.`,
    noPosition: 'Aucune localisation n’a pu être déterminée.',
  },

  identification: {
    title: 'Identification',
    plan: 'Plan de contrôle',
    name: 'Désignation',
    number: 'Numéro de pièce',
    revision: 'Indice',
    serial: 'Numéro de série',
    material: 'Matière',
    machine: 'Machine à mesurer',
    program: 'Programme de mesure',
    operator: 'Opérateur',
    date: 'Date de mesure',
    calibrationDue: 'Étalonnage valable jusqu’au',
    points: 'Fichier de points',
    planFile: 'Fichier du plan de contrôle',
    welds: 'Relevé des soudures',
    weldCounts: (welds, tools) =>
      `${plural(welds, 'soudure', 'soudures')}${tools.length > 0 ? `, ${tools.length === 1 ? 'outil' : 'outils'} ${and(tools)}` : ''}`,
    noWelds: 'non fourni',
    made: 'Rapport établi',
    software: 'Logiciel',
  },

  summary: {
    title: 'Résumé',
    map: 'Localisation de chaque aube',
    mapCaption:
      'Localisation en part de sa tolérance, vue depuis +Z\u00a0; l’anneau en tirets est la tolérance. Le trait fin s’arrête à la borne supérieure.',
    outcome: 'Résultat',
    stations: 'Stations',
    count: 'Nombre',
    list: 'Numéros des stations',
    total: 'prévues',
    facts: 'Valeurs maximales',
    largest: 'valeur maximale',
    at: 'Station',
    reason: 'Motifs des stations manquantes',
  },

  plan: {
    title: 'Plan de contrôle et références spécifiées',
    stations: 'Stations',
    evenly: (count, first, clockwise) =>
      `${count}, à pas égal depuis ${first}, ${clockwise ? 'dans le sens horaire' : 'dans le sens antihoraire'} vu depuis +Z`,
    listed: (count) => `${count}, aux angles indiqués dans le plan de contrôle`,
    seat: 'Position nominale de l’aube',
    seatValue: (radius, axial, height, stagger) =>
      `rayon ${radius}, axial ${axial}, angle de hauteur ${height}, angle de calage ${stagger}`,
    overridden: 'Avec valeurs propres',
    ownValues: 'Stations avec valeurs propres',
    pose: 'Pose de l’aube',
    poses: {
      datum: 'par les références spécifiées de l’aube dans leur ordre de priorité',
      bestfit: 'meilleur ajustement de tous les points de l’aube sur leurs éléments nominaux',
    },
    checkPoints: 'Points de contrôle et limites',
    checkPoint: 'Point de contrôle',
    coordinates: 'Coordonnées (oscillation, latéral, refoulement), mm',
    zone: 'Zone',
    tolerance: 'Tolérance',
    limits: 'Limites (valeur absolue)',
    noLimits: 'aucune limite sur les écarts isolés',
    relative: 'Entre elles',
    hub: 'Références spécifiées du moyeu\u00a0: le repère du disque',
    blade: 'Références spécifiées de l’aube\u00a0: le repère de chaque aube',
    datum: 'Réf.',
    feature: 'Élément',
    type: 'Type',
    association: 'Association',
    fixes: 'Degrés de liberté bloqués',
    points: 'Points',
    rms: 'eqm',
    form: 'Forme',
    weighted: 'pondérés par 1/σ² du fichier',
    screened: 'sans les points signalés par le filtre robuste',
    bestfit: 'ajusté avec les autres par moindres carrés',
    order:
      'Dans l’ordre de priorité\u00a0: chaque référence spécifiée bloque les degrés de liberté laissés libres par les précédentes.',
    residuals:
      'Eqm (écart quadratique moyen) et forme (crête à creux) sont ceux des distances des points à l’élément associé.',
    bladeNote:
      'Points\u00a0: plus petit et plus grand nombre sur les stations\u00a0; eqm et forme\u00a0: plus grande valeur sur les stations.',
  },

  decision: {
    title: 'Règle de décision et incertitude de mesure',
    simple:
      'Règle\u00a0: simple. La valeur est comparée à sa limite\u00a0; l’incertitude est indiquée à côté et n’entre pas dans le verdict. Plus une valeur acceptée est proche de sa limite, plus le risque que la valeur vraie soit au-delà s’approche de 50\u202f%.',
    guarded: (probability, risk) =>
      `Règle\u00a0: avec démonstration (ISO 14253-1, JCGM 106). Une valeur est conforme si la conformité est démontrée avec une probabilité de ${probability}, et non conforme si la non-conformité l’est avec ${probability}\u00a0; sinon elle est dite non démontrée. Pour aucune pièce acceptée le risque du client ne dépasse ${risk}, pour aucune pièce rejetée celui du fournisseur.`,
    factor: (factor, error, position) =>
      `Règle\u00a0: avec facteur. Une valeur est conforme si elle se trouve à ${factor} fois l’incertitude élargie ou davantage en deçà de sa limite, et non conforme si elle se trouve aussi loin au-delà\u00a0; sinon elle est dite non démontrée. À ces bornes, le risque est d’environ ${error} pour les écarts et ${position} pour la localisation, si l’incertitude est petite devant la limite.`,
    coverage: (coverage) =>
      `U est l’incertitude élargie à la probabilité de couverture ${coverage}\u00a0: pour les écarts la demi-largeur de l’intervalle de couverture, pour la localisation sa borne supérieure unilatérale moins la valeur, car une localisation proche de zéro n’a pas d’intervalle symétrique. P est la probabilité de conformité, c’est-à-dire que la valeur vraie respecte sa limite\u00a0; pour une localisation à plusieurs points de contrôle, que tous le fassent.`,
    station:
      'Une station n’est pas conforme si sa localisation ou un écart soumis à une limite ne l’est pas\u00a0; sinon elle est non démontrée si l’un d’eux l’est\u00a0; sinon elle est conforme.',
    stated: 'Indications sur la mesure',
    probing: 'Incertitude-type d’un point',
    probingNone: 'non indiquée\u00a0: prise du fichier, sinon des seuls résidus des ajustements',
    scale: 'Incertitude-type relative de l’échelle',
    scaleNone: 'non indiquée ou nulle\u00a0: non comptée',
    form: 'Corrélation du défaut de forme entre points',
    temperature: 'Température',
    applied: 'le fichier contient des valeurs à 20\u00a0°C\u00a0; elles ne sont pas converties de nouveau',
    scaled: (part, expansion) => `valeurs ramenées à 20\u00a0°C, pièce à ${part}, dilatation ${expansion}`,
    scaledByColumn: (expansion) =>
      `valeurs ramenées à 20\u00a0°C d’après les températures du fichier, dilatation ${expansion}`,
    temperatureUncertainty: (part, expansion) =>
      `incertitude-type de la température de la pièce ${part}, de la dilatation ${expansion}`,
    noTemperature: 'aucune indication\u00a0; valeurs utilisées telles quelles',
    sources: 'Origine de l’incertitude de la localisation',
    source: 'Source',
    share: 'Part de la variance',
    shareCaption:
      'Au point de contrôle déterminant, le long de son déplacement\u00a0: part la plus faible, moyenne et la plus forte sur les stations.',
    lowest: 'Plus faible',
    mean: 'Moyenne',
    highest: 'Plus forte',
    sourceNames: {
      probing: 'palpage (points de l’aube)',
      form: 'défaut de forme des éléments de l’aube',
      frame: 'repère du moyeu (commun à toutes les stations)',
      scale: 'échelle de la machine',
      temperature: 'température',
    },
    none: 'Rien n’est connu de l’incertitude de ces valeurs\u00a0: ni le plan de contrôle ni le fichier ne l’indiquent, et les ajustements ne laissent aucun résidu pour en juger.',
  },

  stations: {
    title: 'Stations',
    table: 'Les six écarts, la localisation et le verdict de chaque station',
    station: 'St.',
    angle: 'Angle',
    position: 'Localis.',
    at: 'Point',
    verdict: 'Verdict',
    limit: 'Limite',
    varies: 'varie',
    note: 'Écarts de l’aube mesurée par rapport à la nominale, dans les axes de celle-ci\u00a0: déplacements selon les axes d’oscillation, latéral et de refoulement, rotations ρ (sens direct) autour de ces axes. La localisation est la plus grande sur les points de contrôle, en pleine dimension de zone. Un signe × marque un écart au-delà de sa limite, ? un écart dont la conformité n’est pas démontrée.',
    figure: 'Écarts autour du disque',
    figureCaption:
      'Chaque écart selon le numéro de station, avec son intervalle de couverture. Tirets\u00a0: limites.',
    disc: 'Les mêmes écarts dans les axes du disque',
    discNote:
      'Déplacement radial, tangentiel (vers les angles croissants) et axial (vers +Z) de l’origine de l’aube\u00a0; l’inclinaison tangentielle et l’inclinaison axiale basculent l’axe d’empilage dans ces directions\u00a0; le calage est positif pour un angle de calage plus grand.',
  },

  station: {
    title: (station, verdict) => `Station ${station}\u00a0: ${verdict}`,
    group: 'Stations non conformes ou non démontrées',
    none: 'Toutes les stations sont conformes\u00a0; il n’y en a aucune à montrer ici.',
    missingOnly:
      'Toutes les stations évaluées sont conformes\u00a0; les stations manquantes figurent dans le résumé.',
    zone: 'Zone et points de contrôle',
    zoneCaption: (coverage) =>
      `Déplacement des points de contrôle en travers de l’aube, vu de l’extrémité\u00a0; tirets\u00a0: zone de tolérance\u00a0; ellipse\u00a0: région de couverture à ${coverage}.`,
    angle: 'Angle prévu',
    position: 'Localisation',
    reasons: 'Au-delà de la limite ou non démontré',
    checkPoints: 'Localisation aux points de contrôle',
    displacement: 'Déplacement (osc., lat., ref.)',
    value: 'Valeur',
    limit: 'Limite',
    errors: 'Les six écarts',
    errorsCaption:
      'Barres\u00a0: écarts\u00a0; traits\u00a0: intervalles de couverture\u00a0; grisé\u00a0: dans les limites.',
    limits: 'Écarts et leurs limites',
    noLimit: 'aucune limite',
    quantity: 'Grandeur',
    disc: 'Dans les axes du disque',
    features: 'Éléments de cette aube',
    settle: 'Ce qui permettrait de trancher',
    unobserved: (name) =>
      `${name}\u00a0: non observé par les éléments d’aube de cet ajustement. Un élément supplémentaire le déterminerait, ou "pose": "datum" dans le plan de contrôle.`,
  },

  settle: {
    atLimit: 'La valeur se trouve à sa limite\u00a0: aucune incertitude plus petite ne trancherait.',
    conformity: 'La conformité',
    nonconformity: 'La non-conformité',
    proven: (what, needed, present) =>
      `${what} serait démontrée à valeur égale avec une incertitude-type de ${needed} au lieu de ${present}`,
    hub: 'même davantage de points sur cette aube ne suffiraient pas, il faudrait mieux connaître le repère du moyeu, l’échelle ou la température',
    points: (factor) => `environ ${factor} fois plus de points sur cette aube suffiraient`,
    both: (proof, how) => `${proof}\u00a0; ${how}.`,
  },

  pattern: {
    title: 'Localisation des aubes entre elles',
    text: (tolerance, free) =>
      `Second niveau de localisation (groupe au sens de l’ISO 5458)\u00a0: toutes les zones de dimension ${tolerance} se déplacent ensemble. Mouvements libres du groupe\u00a0: ${and(free)}. Les zones sont placées de façon que la localisation maximale soit la plus petite possible.`,
    value: 'Localisation maximale restante',
    tolerance: 'Tolérance',
    verdict: 'Verdict',
    motion: 'Mouvement du groupe de zones par rapport au repère du moyeu',
    freedoms: {
      x: 'selon X',
      y: 'selon Y',
      z: 'selon Z',
      rotX: 'autour de X',
      rotY: 'autour de Y',
      rotZ: 'autour de Z',
    },
    undetermined: (freedoms) =>
      `Aucune zone n’est sensible au mouvement ${and(freedoms)}\u00a0; il est resté nul.`,
    table: 'Localisation de chaque aube dans les zones déplacées',
    missing: 'Un groupe dont une aube manque ou n’est pas observée n’est jamais déclaré conforme.',
  },

  characteristics: {
    title: 'Justification des caractéristiques',
    given:
      'Chaque caractéristique du plan de contrôle, avec son exigence et ses résultats, au sens de la justification des caractéristiques de la SAE AS9102. Ce que cette mesure ne détermine pas est indiqué comme tel et doit être justifié ailleurs\u00a0; les exigences sans numéro dans le plan de contrôle suivent à la fin.',
    generated:
      'Le plan de contrôle n’indique aucune caractéristique. Les exigences comparées à des limites dans ce rapport sont numérotées ici, une par station, au sens de la justification des caractéristiques de la SAE AS9102\u00a0; les numéros du dessin les remplacent.',
    table: 'Caractéristiques, exigences et résultats',
    number: 'N°',
    reference: 'Repère',
    quantity: 'Caractéristique',
    requirement: 'Exigence',
    station: 'St.',
    result: 'Résultat',
    elsewhere: 'non déterminée par cette mesure, à justifier ailleurs',
    positionAt: (point) => `localisation, ${point}`,
    position: 'localisation',
    relative: 'localisation entre elles',
    all: 'toutes',
    atMost: (size) => `≤\u00a0${size}`,
    amount: (limit) => `±${limit}`,
    notMeasured: 'non mesurée',
    totals: 'Exigences du tableau, par résultat',
    outcome: 'Résultat',
    total: 'total',
  },

  causes: {
    title: 'Causes et corrections',
    banner: 'Information technique',
    bannerText:
      'Cette section ne fait pas partie de la déclaration de conformité. Elle décompose les écarts de ce disque en composantes d’après leur répartition autour du disque et au fil des soudures\u00a0; une composante est un constat sur une répartition, non la preuve de sa cause.',
    leading: (name, size, low, high, position) =>
      `Composante principale\u00a0: ${name}. À elle seule, elle déplace un point de contrôle de ${size} au plus (${low} à ${high})${position === null ? '' : ` et consomme jusqu’à ${position} de localisation dans la zone du plan de contrôle`}.`,
    leadingNoSize: (name) => `Composante principale\u00a0: ${name}.`,
    noLeading: 'Aucune composante ne se distingue de la dispersion.',
    components: {
      ringShift: 'décalage et basculement de la couronne',
      common: 'décalage axial et rotation communs',
      toolSetup: 'réglage de l’outil',
      toolChange: 'changement d’outil',
      wear: 'usure au fil des soudures',
      index: 'division angulaire',
      harmonics: 'harmoniques autour du disque',
      outliers: 'stations isolées qui ressortent',
      scatter: 'dispersion',
    },
    table: 'Composantes dans l’ordre de leur séparation',
    component: 'Composante',
    size: 'Déplacement',
    position: 'Localisation',
    interval: 'Intervalle',
    at: 'Lieu',
    share: 'Part',
    probability: 'p',
    finding: 'Constat',
    significant: 'significative',
    insignificant: 'non distincte de la dispersion',
    notExamined: 'non examinée',
    notExaminedWhy: (names, reason) =>
      `${names.length === 1 ? 'Non examinée' : 'Non examinées'} (${and(names)})\u00a0: ${reason}`,
    tableNote: (coverage, rate) =>
      `Déplacement\u00a0: le plus grand, dans une direction quelconque, que la composante cause seule à un point de contrôle, avec son intervalle à ${coverage}. Localisation\u00a0: la plus grande qui en résulte dans la zone du plan de contrôle, en pleine dimension de zone (diamètre ou largeur), soit le double du déplacement vu par la zone. Part\u00a0: de la somme pondérée des carrés, dans l’ordre. p\u00a0: probabilité d’une composante aussi grande par la seule dispersion, ajustée pour toutes les composantes (taux de fausses découvertes ${rate}).`,
    parameters: 'Paramètres des composantes significatives',
    parameter: 'Paramètre',
    value: 'Valeur',
    of: 'Pour',
    confounded: (names) =>
      `Impossibles à distinguer avec les stations mesurées\u00a0: ${and(names.map((name) => `«\u00a0${name}\u00a0»`))}.`,
    outliers: (stations) => `Stations qui ressortent\u00a0: ${and(stations.map(String))}.`,
    budget: 'Budget',
    line: 'Poste',
    allocated: 'Alloué',
    found: 'Constaté',
    used: 'Utilisé',
    state: 'État',
    states: { within: 'respecté', undecided: 'indécis', over: 'dépassé', unknown: 'inconnu' },
    budgetLines: {
      toolSetup: 'réglage de l’outil',
      index: 'division angulaire',
      frame: 'repère du moyeu et couronne',
      wear: 'usure',
      toolChange: 'changement d’outil',
      scatter: 'dispersion',
    },
    corrections: 'Corrections pour le prochain disque',
    correction: 'Correction',
    kinds: {
      tool: 'régler les outils autrement',
      hub: 'régler le moyeu autrement',
      index: 'corriger la division',
      all: 'tout à la fois',
    },
    before: 'Localisation maximale avant',
    after: 'après',
    conforming: 'Conformes après',
    settings: 'Réglages',
    setting: (name, of, change) => `${name}${of === null ? '' : ` (${of})`}\u00a0${change}`,
    conformingCount: (after, before) => `${after} (${before} avant)`,
    notRecommended: 'Non recommandé',
    objections: {
      fewer: 'moins de stations seraient conformes qu’avant',
      simpler: 'l’une des corrections, seule, ferait aussi bien sur le prochain disque',
      noise: 'ajusté surtout à la dispersion de ce disque',
    },
    correctionsNote:
      'Prédit pour ce disque d’après ses écarts mesurés, localisation maximale sur les stations concernées par la correction. Le prochain disque aura sa propre dispersion.',
    freedoms: { x: 'X', y: 'Y', z: 'Z', rotX: 'autour de X', rotY: 'autour de Y', rotZ: 'autour de Z' },
    index: 'division',
    indexStations: (stations) =>
      `division\u00a0: stations ${stations}, chacune de son propre angle (voir ci-dessous)`,
    indexTable: 'Corrections de la division par station',
    deviation: 'Écart constaté',
    change: (correction) => `Correction\u00a0: ${correction}`,
    indexNote: (coverage) =>
      `Angles autour de l’axe du disque, positifs vers les angles croissants. Écart\u00a0: de la station, une fois retirées les causes communes, avec son intervalle à ${coverage}. Correction\u00a0: ce qui serait réglé autrement\u00a0; elle sert la localisation de l’aube la plus défavorable et n’est donc pas simplement l’écart changé de signe.`,
    parameterNames: {
      x: 'décalage selon X',
      y: 'décalage selon Y',
      tiltX: 'basculement autour de X',
      tiltY: 'basculement autour de Y',
      shift: 'décalage de la couronne',
      direction: 'direction du décalage depuis +X',
      axial: 'décalage axial',
      clocking: 'rotation d’ensemble',
      amplitude: 'amplitude',
      phase: 'phase',
    },
    perWeld: 'par soudure',
    harmonic: (channel, order) => `${channel}, ordre ${order}`,
    tools: 'Soudures par outil',
    tool: 'Outil',
    toolStations: 'Stations dans l’ordre des soudures',
  },

  exclusions: {
    title: 'Points écartés et avertissements',
    counts: (rows, used, excluded) =>
      `Lignes lues\u00a0: ${rows}. Points utilisés\u00a0: ${used}. Lignes écartées\u00a0: ${excluded}.`,
    none: 'Aucune ligne n’a été écartée.',
    byReason: 'Lignes écartées, par motif',
    reason: 'Motif',
    rows: 'Lignes',
    lines: 'Numéros de ligne du fichier',
    more: (count) => `et ${count} autres`,
    listed: (most) =>
      `Pour chaque motif, les ${most} premières lignes sont citées et les autres comptées\u00a0; result.json les cite toutes.`,
    screened: 'Points signalés par le filtre robuste',
    screenedNote: (total, excluded) =>
      `${plural(total, 'point a été signalé', 'points ont été signalés')}\u00a0; ${excluded === 0 ? 'aucun n’a été écarté' : `${excluded} ${excluded === 1 ? 'a été écarté' : 'ont été écartés'}`}.`,
    hub: 'moyeu',
    point: 'Point n°',
    distance: 'Distance',
    treatment: 'Traitement',
    leftOut: 'écarté',
    kept: 'utilisé',
    moreScreened: (count) =>
      `${plural(count, 'autre point signalé figure', 'autres points signalés figurent')} dans result.json.`,
    warnings: 'Avertissements',
    noWarnings: 'Il n’y a eu aucun avertissement.',
    verbatim: 'Faute de traduction, les messages du logiciel sont cités ici en anglais.',
    byHand:
      'Ce qui figure entre guillemets après «\u00a0exclusion à la main\u00a0» est le texte de la personne qui a exclu les points.',
  },

  statements: {
    title: 'Ce que signifient ces valeurs',
    items: (criteria) => [
      'La localisation d’une aube est celle d’un repère d’aube rigide, déterminé par les éléments de référence mesurés de l’aube et transporté au point de contrôle. Le profil de l’aube entre ces éléments n’a pas été mesuré\u00a0; ce rapport n’en dit rien.',
      `Les éléments ont été associés à leurs points par\u00a0: ${and(criteria)}. Un dessin peut demander un autre critère\u00a0; les valeurs diffèrent alors.`,
      'Toutes les valeurs sont indépendantes de la dimension des éléments\u00a0: aucune tolérance n’a été augmentée en raison de la dimension d’un élément.',
      'La localisation est donnée en pleine dimension de zone (diamètre ou largeur), à comparer telle quelle à la valeur du dessin.',
      'L’incertitude tient compte de ce qui est indiqué sur la mesure et de ce que montrent les résidus des ajustements. Elle n’inclut ni le bridage, ni la qualification du palpeur, ni un éventuel dérèglement de la machine.',
      'Les valeurs décrivent où se trouvent les aubes. Elles ne disent rien de la soudure ni de la matière.',
    ],
  },

  fingerprints: {
    title: 'Fichiers d’entrée',
    file: 'Fichier',
    role: 'Contenu',
    sha: 'SHA-256',
    points: 'points',
    plan: 'plan de contrôle',
    welds: 'relevé des soudures',
    note: 'Qui possède un fichier de même SHA-256 possède le même fichier, à l’octet près.',
  },

  cautions: {
    title: 'Réserves',
    heading: 'Aide à la décision seulement',
    items: [
      'Ce rapport aide à décider et ne décide pas. Le dessin, le contrat, la réglementation locale et l’organisme de contrôle agréé font foi\u00a0; rien ici ne vaut libération d’une pièce ni ne remplace un contrôleur qualifié.',
      'Vérifiez la méthode sur vos propres étalons et votre propre machine avant de vous y fier\u00a0: mesurez un disque ou une pièce étalon d’état connu, comparez à la méthode éprouvée jusqu’ici, conservez-en la preuve et recommencez après chaque mise à jour.',
    ],
  },

  signatures: {
    title: 'Signatures',
    roles: ['Mesuré par', 'Évalué par', 'Approuvé par'],
    fields: ['Nom', 'Signature', 'Date'],
    text: 'Signé pour la mesure et son évaluation telles qu’indiquées ci-dessus.',
  },

  freedoms: {
    translation: (axes) => `translation selon ${and(axes)}`,
    tilt: (axis) => `les deux rotations qui inclinent ${axis}`,
    allRotations: 'les trois rotations',
    rotation: (axes) => `rotation autour de ${list(axes, 'et de')}`,
    axes: {
      disc: { x: 'X', y: 'Y', z: 'Z (axe du disque)' },
      blade: { x: 'l’axe d’oscillation', y: 'l’axe latéral', z: 'l’axe de refoulement' },
    },
  },
};
