/** The words of the report in German, in the terms of DIN EN ISO 1101, 5459, 14253-1 and of the VIM. */
import { list } from './join.ts';
import type { Messages } from './messages.ts';

const and = (items: readonly string[]): string => list(items, 'und');
const plural = (count: number, one: string, many: string): string => `${count} ${count === 1 ? one : many}`;

export const de: Messages = {
  report: 'Konformitätsbericht',
  subject: 'Position der Schaufeln einer beschaufelten Scheibe',
  notStated: 'keine Angabe',
  continued: 'Fortsetzung',
  page: 'Seite',
  inch: 'Zoll',
  yes: 'ja',
  no: 'nein',
  and,
  serial: (serial) => `Serien-Nr. ${serial}`,
  semicolon: '; ',
  /** Between the numbers of a vector. */
  listSeparator: '; ',
  colon: (key, value) => `${key}: ${value}`,

  verdicts: {
    conforming: 'konform',
    nonconforming: 'nicht konform',
    unproven: 'nicht nachgewiesen',
    missing: 'fehlt',
  },

  errors: {
    oscillation: 'Schwingrichtung',
    lateral: 'Querrichtung',
    upset: 'Stauchrichtung',
    rotOscillation: 'Drehung um Schwingrichtung',
    rotLateral: 'Drehung um Querrichtung',
    rotUpset: 'Drehung um Stauchrichtung',
    radial: 'radial',
    tangential: 'tangential',
    axial: 'axial',
    lean: 'Umfangsneigung',
    sweep: 'Axialneigung',
    stagger: 'Staffelung',
  },
  errorsShort: {
    oscillation: 'Schwing.',
    lateral: 'Quer',
    upset: 'Stauch',
    rotOscillation: 'ρ Schw.',
    rotLateral: 'ρ Quer',
    rotUpset: 'ρ Stau.',
    radial: 'Radial',
    tangential: 'Tangential',
    axial: 'Axial',
    lean: 'Umfangsn.',
    sweep: 'Axialn.',
    stagger: 'Staffelung',
  },
  zones: { cylindrical: 'zylindrisch', spherical: 'kugelförmig', planar: 'zwischen zwei Ebenen' },
  zoneSize: {
    cylindrical: (size) => `⌀\u00a0${size}`,
    spherical: (size) => `S⌀\u00a0${size}`,
    planar: (size) => `Breite ${size}`,
  },
  types: {
    plane: 'Ebene',
    line: 'Gerade',
    circle: 'Kreis',
    sphere: 'Kugel',
    cylinder: 'Zylinder',
    cone: 'Kegel',
    point: 'Punkt',
    midplane: 'Mittelebene',
    pattern: 'Muster',
  },
  associations: {
    gaussian: 'kleinste Quadrate (Gauß)',
    'gaussian-outer': 'kleinste Quadrate, an den äußersten Punkt des Werkstoffs verschoben',
    minimax: 'Minimum-Bedingung (Tschebyscheff)',
    'maximum-inscribed': 'größtes einbeschriebenes Element',
    'minimum-circumscribed': 'kleinstes umschriebenes Element',
  },

  banner: {
    conforming: 'Konform',
    nonconforming: 'Nicht konform',
    unproven: 'Konformität nicht nachgewiesen',
    missing: 'Unvollständig',
    all: (count) =>
      count === 1
        ? 'Die eine geplante Station wurde ausgewertet und ist konform.'
        : `Alle ${count} geplanten Stationen wurden ausgewertet und sind konform.`,
    counts: (of, conforming, nonconforming, unproven, missing) =>
      `Geplante Stationen: ${of}; konform: ${conforming}` +
      `${nonconforming > 0 ? `, nicht konform: ${nonconforming}` : ''}` +
      `${unproven > 0 ? `, nicht nachgewiesen: ${unproven}` : ''}` +
      `${missing > 0 ? `, fehlend: ${missing}` : ''}.`,
    worst: (position, upper, station, at, tolerance) =>
      `Größte Position ${position}${upper === null ? '' : ` (U\u00a0${upper})`} an Station\u00a0${station}, Prüfpunkt ${at}; Toleranz ${tolerance}.`,
    pattern: (verdict) => `Position der Schaufeln zueinander: ${verdict}.`,
    noPosition: 'Es konnte keine Position bestimmt werden.',
  },

  identification: {
    title: 'Angaben zu Teil und Messung',
    plan: 'Prüfplan',
    name: 'Benennung',
    number: 'Teilenummer',
    revision: 'Änderungsstand',
    serial: 'Seriennummer',
    material: 'Werkstoff',
    machine: 'Messgerät',
    program: 'Messprogramm',
    operator: 'Bediener',
    date: 'Messdatum',
    calibrationDue: 'Kalibrierung gültig bis',
    points: 'Punktdatei',
    planFile: 'Prüfplandatei',
    welds: 'Schweißprotokoll',
    weldCounts: (welds, tools) =>
      `${plural(welds, 'Schweißung', 'Schweißungen')}${tools.length > 0 ? `, ${tools.length === 1 ? 'Werkzeug' : 'Werkzeuge'} ${and(tools)}` : ''}`,
    noWelds: 'keines angegeben',
    made: 'Bericht erstellt',
    software: 'Software',
  },

  summary: {
    title: 'Zusammenfassung',
    map: 'Position aller Schaufeln',
    mapCaption:
      'Position als Anteil ihrer Toleranz, von +Z gesehen; der gestrichelte Ring ist die Toleranz. Die dünne Linie endet an der oberen Grenze.',
    outcome: 'Ergebnis',
    stations: 'Stationen',
    count: 'Anzahl',
    list: 'Stationsnummern',
    total: 'geplant',
    facts: 'Größte Beträge',
    largest: 'größter Wert',
    at: 'Station',
    reason: 'Gründe für fehlende Stationen',
  },

  plan: {
    title: 'Prüfplan und Bezüge',
    stations: 'Stationen',
    evenly: (count, first, clockwise) =>
      `${count}, gleichmäßig geteilt ab ${first}, von +Z gesehen ${clockwise ? 'im Uhrzeigersinn' : 'gegen den Uhrzeigersinn'}`,
    listed: (count) => `${count}, unter den im Prüfplan aufgeführten Winkeln`,
    seat: 'Nennlage der Schaufel',
    seatValue: (radius, axial, height, stagger) =>
      `Radius ${radius}, axial ${axial}, Höhenwinkel ${height}, Staffelungswinkel ${stagger}`,
    overridden: 'Mit eigenen Werten',
    ownValues: 'Stationen mit eigenen Werten',
    pose: 'Lage der Schaufel',
    poses: {
      datum: 'aus den Schaufelbezügen in der Reihenfolge ihres Vorrangs',
      bestfit: 'Besteinpassung aller Schaufelpunkte in ihre Nenngeometrieelemente',
    },
    checkPoints: 'Prüfpunkte und Grenzwerte',
    checkPoint: 'Prüfpunkt',
    coordinates: 'Ort (Schwing-, Quer-, Stauchrichtung), mm',
    zone: 'Zone',
    tolerance: 'Toleranz',
    limits: 'Grenzwerte (Betrag)',
    noLimits: 'keine Grenzwerte für einzelne Abweichungen',
    relative: 'Zueinander',
    hub: 'Nabenbezüge: das Koordinatensystem der Scheibe',
    blade: 'Schaufelbezüge: das Koordinatensystem jeder Schaufel',
    datum: 'Bezug',
    feature: 'Element',
    type: 'Art',
    association: 'Assoziation',
    fixes: 'Gebundene Freiheitsgrade',
    points: 'Punkte',
    rms: 'rms',
    form: 'Form',
    weighted: 'gewichtet mit 1/σ² aus der Datei',
    screened: 'ohne die vom robusten Filter markierten Punkte',
    bestfit: 'gemeinsam mit den anderen nach kleinsten Quadraten eingepasst',
    order:
      'In der Reihenfolge des Vorrangs: Jeder Bezug bindet die Freiheitsgrade, die die vorhergehenden frei ließen.',
    residuals:
      'Rms (quadratischer Mittelwert) und Form (Spitze-Tal-Wert) gelten für die Abstände der Punkte vom assoziierten Geometrieelement.',
    bladeNote:
      'Punkte: kleinste und größte Anzahl über die Stationen; rms und Form: größter Wert über die Stationen.',
  },

  decision: {
    title: 'Entscheidungsregel und Messunsicherheit',
    simple:
      'Regel: einfach. Der Messwert wird unmittelbar mit seinem Grenzwert verglichen; die Messunsicherheit steht daneben und geht in die Bewertung nicht ein. Je näher ein angenommener Wert an seinem Grenzwert liegt, desto mehr nähert sich das Risiko, dass der wahre Wert außerhalb liegt, 50\u202f%.',
    guarded: (probability, risk) =>
      `Regel: Nachweis (ISO 14253-1, JCGM 106). Ein Wert ist konform, wenn die Konformität mit einer Wahrscheinlichkeit von ${probability} nachgewiesen ist, und nicht konform, wenn die Nichtkonformität mit ${probability} nachgewiesen ist; alles andere heißt nicht nachgewiesen. Bei keinem angenommenen Teil liegt das Abnehmerrisiko über ${risk}, bei keinem zurückgewiesenen das Herstellerrisiko.`,
    factor: (factor, error, position) =>
      `Regel: Nachweis mit Faktor. Ein Wert ist konform, wenn er um mindestens ${factor} erweiterte Messunsicherheiten innerhalb seines Grenzwerts liegt, und nicht konform, wenn er ebenso weit außerhalb liegt; alles andere heißt nicht nachgewiesen. An diesen Schwellen beträgt das Risiko etwa ${error} bei Abweichungen und ${position} bei der Position, sofern die Messunsicherheit gegenüber dem Grenzwert klein ist.`,
    coverage: (coverage) =>
      `U ist die erweiterte Messunsicherheit zur Überdeckungswahrscheinlichkeit ${coverage}: bei Abweichungen die halbe Breite des Überdeckungsintervalls, bei der Position deren einseitige obere Grenze minus Messwert, weil eine Position nahe null kein symmetrisches Intervall hat. P ist die Konformitätswahrscheinlichkeit, also die Wahrscheinlichkeit, dass der wahre Wert seinen Grenzwert einhält; bei einer Position mit mehreren Prüfpunkten, dass alle es tun.`,
    station:
      'Eine Station ist nicht konform, wenn ihre Position oder eine Abweichung mit Grenzwert es nicht ist; sonst nicht nachgewiesen, wenn einer davon nicht nachgewiesen ist; sonst konform.',
    stated: 'Angaben zur Messung',
    probing: 'Standardunsicherheit eines Punkts',
    probingNone: 'keine Angabe: aus der Datei, sonst allein aus den Residuen der Einpassungen',
    scale: 'Relative Standardunsicherheit des Maßstabs',
    scaleNone: 'keine Angabe oder null: nicht berücksichtigt',
    form: 'Korrelation der Formabweichung zwischen Punkten',
    temperature: 'Temperatur',
    applied: 'die Datei enthält Werte bei 20\u00a0°C; sie werden nicht noch einmal umgerechnet',
    scaled: (part, expansion) => `auf 20\u00a0°C umgerechnet, Teil bei ${part}, Ausdehnung ${expansion}`,
    scaledByColumn: (expansion) =>
      `mit den Temperaturen der Datei auf 20\u00a0°C umgerechnet, Ausdehnung ${expansion}`,
    temperatureUncertainty: (part, expansion) =>
      `Standardunsicherheit der Teiletemperatur ${part}, der Ausdehnung ${expansion}`,
    noTemperature: 'keine Angabe; die Werte werden unverändert verwendet',
    sources: 'Herkunft der Messunsicherheit der Position',
    source: 'Quelle',
    share: 'Anteil an der Varianz',
    shareCaption:
      'Am maßgebenden Prüfpunkt, längs seiner Verschiebung: kleinster, mittlerer und größter Anteil über die Stationen.',
    lowest: 'Kleinster',
    mean: 'Mittel',
    highest: 'Größter',
    sourceNames: {
      probing: 'Antastung (Punkte der Schaufel)',
      form: 'Formabweichung der Schaufelelemente',
      frame: 'Koordinatensystem der Nabe (allen Stationen gemeinsam)',
      scale: 'Maßstab des Messgeräts',
      temperature: 'Temperatur',
    },
    none: 'Über die Messunsicherheit dieser Werte ist nichts bekannt: Weder Prüfplan noch Datei geben sie an, und die Einpassungen lassen keine Residuen übrig, aus denen sie sich ableiten ließe.',
  },

  stations: {
    title: 'Stationen',
    table: 'Die sechs Abweichungen, Position und Bewertung jeder Station',
    station: 'St.',
    angle: 'Winkel',
    position: 'Position',
    at: 'bei',
    verdict: 'Bewertung',
    limit: 'Grenze',
    varies: 'versch.',
    note: 'Abweichungen der gemessenen Schaufel von der Nennlage in deren Achsen: Verschiebungen längs, Drehungen ρ (rechtshändig) um Schwing-, Quer- und Stauchrichtung. Angegeben ist die größte Position über die Prüfpunkte, als volle Zonengröße. Das Zeichen × steht an einer Abweichung, die ihren Grenzwert überschreitet, ? an einer, deren Konformität nicht nachgewiesen ist.',
    figure: 'Abweichungen rings um die Scheibe',
    figureCaption:
      'Jede Abweichung über der Stationsnummer, mit Überdeckungsintervall. Gestrichelt: Grenzwerte.',
    disc: 'Dieselben Abweichungen in den Achsen der Scheibe',
    discNote:
      'Radiale, tangentiale (zu wachsendem Winkel hin) und axiale (nach +Z) Verschiebung des Schaufelursprungs; die Umfangsneigung kippt die Fädelachse in Umfangs-, die Axialneigung in Achsrichtung; die Staffelung ist bei größerem Staffelungswinkel positiv.',
  },

  station: {
    title: (station, verdict) => `Station ${station}: ${verdict}`,
    group: 'Nicht konforme und nicht nachgewiesene Stationen',
    none: 'Alle Stationen sind konform; hier ist keine aufzuführen.',
    missingOnly: 'Alle ausgewerteten Stationen sind konform; fehlende Stationen nennt die Zusammenfassung.',
    zone: 'Zone und Prüfpunkte',
    zoneCaption: (coverage) =>
      `Verschiebung der Prüfpunkte quer zur Schaufel, von der Spitze gesehen; gestrichelt: Toleranzzone; Ellipse: Überdeckungsbereich zu ${coverage}.`,
    angle: 'Sollwinkel',
    position: 'Position',
    reasons: 'Grenzwert überschritten oder nicht nachgewiesen',
    checkPoints: 'Position an den Prüfpunkten',
    displacement: 'Verschiebung (Schw., Quer, Stauch)',
    value: 'Wert',
    limit: 'Grenze',
    errors: 'Die sechs Abweichungen',
    errorsCaption:
      'Balken: Abweichungen; Striche: Überdeckungsintervalle; hinterlegt: innerhalb der Grenzen.',
    limits: 'Abweichungen und ihre Grenzwerte',
    noLimit: 'kein Grenzwert',
    quantity: 'Größe',
    disc: 'In den Achsen der Scheibe',
    features: 'Elemente dieser Schaufel',
    settle: 'Was zu einer Entscheidung führen würde',
    unobserved: (name) =>
      `${name}: von den Schaufelelementen dieser Besteinpassung nicht bestimmt. Ein weiteres Element würde sie bestimmen, oder "pose": "datum" im Prüfplan.`,
  },

  settle: {
    atLimit:
      'Der Wert liegt an seinem Grenzwert: Auch eine kleinere Messunsicherheit führte zu keiner Entscheidung.',
    conformity: 'Die Konformität',
    nonconformity: 'Die Nichtkonformität',
    proven: (what, needed, present) =>
      `${what} wäre beim selben Wert mit einer Standardunsicherheit von ${needed} statt ${present} nachgewiesen`,
    hub: 'mehr Punkte an dieser Schaufel genügen nicht, das Koordinatensystem der Nabe, der Maßstab oder die Temperatur müsste genauer bekannt sein',
    points: (factor) => `etwa ${factor}-mal so viele Punkte an dieser Schaufel würden genügen`,
    both: (proof, how) => `${proof}; ${how}.`,
  },

  pattern: {
    title: 'Position der Schaufeln zueinander',
    text: (tolerance, free) =>
      `Zweite Stufe der Position (Muster im Sinne von ISO 5458): Alle Zonen der Größe ${tolerance} bewegen sich gemeinsam. Freie Bewegungen des Musters: ${and(free)}. Die Zonen stehen dort, wo die größte Position am kleinsten ist.`,
    value: 'Größte verbleibende Position',
    tolerance: 'Toleranz',
    verdict: 'Bewertung',
    motion: 'Bewegung des Zonenmusters gegen das Koordinatensystem der Nabe',
    freedoms: { x: 'längs X', y: 'längs Y', z: 'längs Z', rotX: 'um X', rotY: 'um Y', rotZ: 'um Z' },
    undetermined: (freedoms) => `Keine Zone erfasst die Bewegung ${and(freedoms)}; sie blieb null.`,
    table: 'Position jeder Schaufel in den bewegten Zonen',
    missing: 'Ein Muster mit fehlender oder unbestimmter Schaufel wird nie als konform ausgewiesen.',
  },

  characteristics: {
    title: 'Nachweis der Merkmale',
    given:
      'Jedes Merkmal des Prüfplans mit Anforderung und Ergebnissen, im Sinne des Merkmalsnachweises nach SAE AS9102. Was diese Messung nicht bestimmt, ist als solches aufgeführt und anderweitig nachzuweisen; Anforderungen ohne Nummer im Prüfplan folgen am Ende.',
    generated:
      'Der Prüfplan führt keine Merkmale auf. Die in diesem Bericht mit Grenzwerten verglichenen Anforderungen sind hier je Station nummeriert, im Sinne des Merkmalsnachweises nach SAE AS9102; an ihre Stelle treten die Nummern der Zeichnung.',
    table: 'Merkmale, Anforderungen und Ergebnisse',
    number: 'Nr.',
    reference: 'Verweis',
    quantity: 'Merkmal',
    requirement: 'Anforderung',
    station: 'St.',
    result: 'Ergebnis',
    elsewhere: 'von dieser Messung nicht bestimmt, anderweitig nachzuweisen',
    positionAt: (point) => `Position, ${point}`,
    position: 'Position',
    relative: 'Position zueinander',
    all: 'alle',
    atMost: (size) => `≤\u00a0${size}`,
    amount: (limit) => `±${limit}`,
    notMeasured: 'nicht gemessen',
    totals: 'Anforderungen der Tabelle nach Ergebnis',
    outcome: 'Ergebnis',
    total: 'insgesamt',
  },

  causes: {
    title: 'Ursachen und Korrekturen',
    banner: 'Technische Information',
    bannerText:
      'Dieser Abschnitt ist nicht Teil der Konformitätsaussage. Er zerlegt die Abweichungen dieser Scheibe nach ihrem Muster um die Scheibe und über die Schweißfolge in Anteile; ein Anteil ist ein Befund über ein Muster, kein Beweis seiner Ursache.',
    leading: (name, size, low, high, position) =>
      `Führender Anteil: ${name}. Allein verschiebt er einen Prüfpunkt um bis zu ${size} (${low} bis ${high})${position === null ? '' : ` und verbraucht bis zu ${position} Position in der Zone des Prüfplans`}.`,
    leadingNoSize: (name) => `Führender Anteil: ${name}.`,
    noLeading: 'Kein Anteil hebt sich von der Streuung ab.',
    components: {
      ringShift: 'Versatz und Kippung des Rings',
      common: 'gemeinsame axiale Verschiebung und Verdrehung',
      toolSetup: 'Werkzeugeinstellung',
      toolChange: 'Werkzeugwechsel',
      wear: 'Verschleiß über die Schweißfolge',
      index: 'Teilung',
      harmonics: 'Harmonische um die Scheibe',
      outliers: 'einzelne auffällige Stationen',
      scatter: 'Streuung',
    },
    table: 'Anteile in der Reihenfolge, in der sie getrennt werden',
    component: 'Anteil',
    size: 'Verschiebung',
    position: 'Position',
    interval: 'Intervall',
    at: 'Ort',
    share: 'Beitrag',
    probability: 'p',
    finding: 'Befund',
    significant: 'signifikant',
    insignificant: 'von Streuung nicht zu trennen',
    notExamined: 'nicht untersucht',
    notExaminedWhy: (names, reason) => `Nicht untersucht (${and(names)}): ${reason}`,
    tableNote: (coverage, rate) =>
      `Verschiebung: größte Verschiebung eines Prüfpunkts in beliebiger Richtung, die der Anteil allein verursacht, mit Intervall zu ${coverage}. Position: die größte, die daraus in der Zone des Prüfplans entsteht, als volle Zonengröße (Durchmesser oder Breite), also das Doppelte der Verschiebung, die die Zone sieht. Beitrag: zur gewichteten Quadratsumme, der Reihe nach. p: Wahrscheinlichkeit eines ebenso großen Anteils aus Streuung allein, über alle Anteile angepasst (Falschentdeckungsrate ${rate}).`,
    parameters: 'Parameter der signifikanten Anteile',
    parameter: 'Parameter',
    value: 'Wert',
    of: 'Zu',
    confounded: (names) =>
      `Mit den gemessenen Stationen nicht voneinander zu trennen: ${and(names.map((name) => `„${name}“`))}.`,
    outliers: (stations) => `Auffällige Stationen: ${and(stations.map(String))}.`,
    budget: 'Budget',
    line: 'Posten',
    allocated: 'Zugeteilt',
    found: 'Ermittelt',
    used: 'Genutzt',
    state: 'Stand',
    states: {
      within: 'eingehalten',
      undecided: 'unentschieden',
      over: 'überschritten',
      unknown: 'unbekannt',
    },
    budgetLines: {
      toolSetup: 'Werkzeugeinstellung',
      index: 'Teilung',
      frame: 'Nabensystem und Ring',
      wear: 'Verschleiß',
      toolChange: 'Werkzeugwechsel',
      scatter: 'Streuung',
    },
    corrections: 'Korrekturen für die nächste Scheibe',
    correction: 'Korrektur',
    kinds: {
      tool: 'Werkzeuge anders einstellen',
      hub: 'Nabe anders einrichten',
      index: 'Teilung korrigieren',
      all: 'alles zusammen',
    },
    before: 'Größte Position vorher',
    after: 'nachher',
    conforming: 'Konform nachher',
    settings: 'Einstellungen',
    setting: (name, of, change) => `${name}${of === null ? '' : ` (${of})`}\u00a0${change}`,
    conformingCount: (after, before) => `${after} (vorher ${before})`,
    notRecommended: 'Nicht empfohlen',
    objections: {
      fewer: 'weniger Stationen wären konform als vorher',
      simpler: 'eine der Korrekturen allein leistet an der nächsten Scheibe ebenso viel',
      noise: 'größtenteils an die Streuung dieser Scheibe angepasst',
    },
    correctionsNote:
      'Für diese Scheibe aus ihren gemessenen Abweichungen vorhergesagt, größte Position über die Stationen, denen die Korrektur dient. Die nächste Scheibe hat ihre eigene Streuung.',
    freedoms: { x: 'X', y: 'Y', z: 'Z', rotX: 'um X', rotY: 'um Y', rotZ: 'um Z' },
    index: 'Teilung',
    indexStations: (stations) => `Teilung: Stationen ${stations}, jede um ihren eigenen Winkel (siehe unten)`,
    indexTable: 'Teilungskorrekturen je Station',
    deviation: 'Ermittelte Abweichung',
    change: (correction) => `Änderung: ${correction}`,
    indexNote: (coverage) =>
      `Winkel um die Scheibenachse, positiv zu wachsendem Winkel hin. Abweichung: der Station nach Abzug der gemeinsamen Ursachen, mit Intervall zu ${coverage}. Änderung: was anders einzustellen wäre; sie dient der Position der ungünstigsten Schaufel und ist daher nicht einfach die Abweichung mit umgekehrtem Vorzeichen.`,
    parameterNames: {
      x: 'Versatz längs X',
      y: 'Versatz längs Y',
      tiltX: 'Kippung um X',
      tiltY: 'Kippung um Y',
      shift: 'Versatz des Rings',
      direction: 'Richtung des Versatzes ab +X',
      axial: 'axiale Verschiebung',
      clocking: 'Verdrehung',
      amplitude: 'Amplitude',
      phase: 'Phase',
    },
    perWeld: 'je Schweißung',
    harmonic: (channel, order) => `${channel}, Ordnung ${order}`,
    tools: 'Schweißungen nach Werkzeug',
    tool: 'Werkzeug',
    toolStations: 'Stationen in Schweißfolge',
  },

  exclusions: {
    title: 'Ausgelassene Punkte und Warnungen',
    counts: (rows, used, excluded) =>
      `Gelesene Zeilen: ${rows}. Verwendete Punkte: ${used}. Ausgelassene Zeilen: ${excluded}.`,
    none: 'Keine Zeile wurde ausgelassen.',
    byReason: 'Ausgelassene Zeilen nach Grund',
    reason: 'Grund',
    rows: 'Zeilen',
    lines: 'Zeilennummern der Datei',
    more: (count) => `und ${count} weitere`,
    listed: (most) =>
      `Zu jedem Grund sind die ersten ${most} Zeilen aufgeführt und die übrigen gezählt; result.json führt jede auf.`,
    screened: 'Vom robusten Filter markierte Punkte',
    screenedNote: (total, excluded) =>
      `${plural(total, 'Punkt wurde', 'Punkte wurden')} markiert; ${excluded === 0 ? 'keiner wurde ausgelassen' : `${excluded} ${excluded === 1 ? 'wurde' : 'wurden'} ausgelassen`}.`,
    hub: 'Nabe',
    point: 'Punkt-Nr.',
    distance: 'Abstand',
    treatment: 'Behandlung',
    leftOut: 'ausgelassen',
    kept: 'verwendet',
    moreScreened: (count) =>
      `${plural(count, 'weiterer markierter Punkt steht', 'weitere markierte Punkte stehen')} in result.json.`,
    warnings: 'Warnungen',
    noWarnings: 'Es gab keine Warnungen.',
    verbatim: 'Meldungen der Software stehen hier, wo keine Übersetzung vorliegt, im englischen Wortlaut.',
    byHand:
      'Was hinter „von Hand ausgeschlossen“ in Anführungszeichen steht, ist der Wortlaut der Person, die die Punkte ausgeschlossen hat.',
  },

  statements: {
    title: 'Was diese Zahlen aussagen',
    items: (criteria) => [
      'Die Position einer Schaufel ist die eines starren Schaufelkoordinatensystems, aus den gemessenen Bezugselementen der Schaufel bestimmt und zum Prüfpunkt übertragen. Das Schaufelprofil zwischen den Bezugselementen wurde nicht gemessen; darüber ist nichts ausgesagt.',
      `Die Geometrieelemente wurden ihren Punkten assoziiert nach: ${and(criteria)}. Eine Zeichnung kann ein anderes Kriterium verlangen; dann weichen die Werte ab.`,
      'Alle Werte gelten unabhängig vom Istmaß der Geometrieelemente: Keine Toleranz wurde wegen des Maßes eines Elements vergrößert.',
      'Die Position ist als volle Zonengröße (Durchmesser oder Breite) angegeben und unmittelbar mit dem Zeichnungswert zu vergleichen.',
      'Die Messunsicherheit umfasst, was zur Messung angegeben ist und was die Residuen der Einpassungen zeigen. Einflüsse der Aufspannung, des Einmessens der Taster oder eines dejustierten Messgeräts sind darin nicht enthalten.',
      'Die Werte beschreiben, wo die Schaufeln sind. Über die Schweißnaht und den Werkstoff sagen sie nichts aus.',
    ],
  },

  fingerprints: {
    title: 'Eingabedateien',
    file: 'Datei',
    role: 'Inhalt',
    sha: 'SHA-256',
    points: 'Punkte',
    plan: 'Prüfplan',
    welds: 'Schweißprotokoll',
    note: 'Wer eine Datei mit demselben SHA-256 hat, hat Byte für Byte dieselbe Datei.',
  },

  cautions: {
    title: 'Vorbehalte',
    heading: 'Nur Entscheidungshilfe',
    items: [
      'Dieser Bericht unterstützt eine Entscheidung und trifft sie nicht. Es gelten Zeichnung, Vertrag, örtliche Vorschriften und die zugelassene Prüfstelle; nichts hierin gibt ein Teil frei oder ersetzt einen befähigten Prüfer.',
      'Prüfen Sie das Verfahren an eigenen Prüfkörpern und auf dem eigenen Messgerät, bevor Sie sich darauf verlassen: Messen Sie eine Scheibe oder ein Meisterteil bekannten Zustands, vergleichen Sie mit dem bisher bewährten Verfahren, bewahren Sie den Nachweis auf und wiederholen Sie ihn nach jeder Aktualisierung.',
    ],
  },

  signatures: {
    title: 'Unterschriften',
    roles: ['Gemessen', 'Ausgewertet', 'Genehmigt'],
    fields: ['Name', 'Unterschrift', 'Datum'],
    text: 'Unterzeichnet für die Messung und ihre Auswertung, wie oben angegeben.',
  },

  freedoms: {
    translation: (axes) => `Verschiebung längs ${and(axes)}`,
    tilt: (axis) => `die zwei Drehungen, die ${axis} kippen`,
    allRotations: 'alle drei Drehungen',
    rotation: (axes) => `Drehung um ${and(axes)}`,
    axes: {
      disc: { x: 'X', y: 'Y', z: 'Z (Scheibenachse)' },
      blade: { x: 'Schwingrichtung', y: 'Querrichtung', z: 'Stauchrichtung' },
    },
  },
};
