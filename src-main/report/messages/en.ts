/** The words of the report in English, and the type of every other language. Numbers come in as finished text. */
import { list } from './join.ts';

const and = (items: readonly string[]): string => list(items, 'and');
const plural = (count: number, one: string, many: string): string => `${count} ${count === 1 ? one : many}`;

export const en = {
  report: 'Conformance report',
  subject: 'Position of the blades of a bladed disc',
  notStated: 'not stated',
  continued: 'continued',
  page: 'Page',
  inch: 'inch',
  yes: 'yes',
  no: 'no',
  and,
  serial: (serial: string) => `serial no. ${serial}`,
  semicolon: '; ',
  /** Between the numbers of a vector. */
  listSeparator: ', ',
  colon: (key: string, value: string) => `${key}: ${value}`,

  verdicts: {
    conforming: 'conforming',
    nonconforming: 'nonconforming',
    unproven: 'not proven',
    missing: 'missing',
  },

  errors: {
    oscillation: 'oscillation',
    lateral: 'lateral',
    upset: 'upset',
    rotOscillation: 'rotation about oscillation',
    rotLateral: 'rotation about lateral',
    rotUpset: 'rotation about upset',
    radial: 'radial',
    tangential: 'tangential',
    axial: 'axial',
    lean: 'lean',
    sweep: 'sweep',
    stagger: 'stagger',
  },
  /** For the heads of tables. */
  errorsShort: {
    oscillation: 'Oscill.',
    lateral: 'Lateral',
    upset: 'Upset',
    rotOscillation: 'ρ Osc.',
    rotLateral: 'ρ Lat.',
    rotUpset: 'ρ Ups.',
    radial: 'Radial',
    tangential: 'Tangential',
    axial: 'Axial',
    lean: 'Lean',
    sweep: 'Sweep',
    stagger: 'Stagger',
  },
  zones: { cylindrical: 'cylindrical', spherical: 'spherical', planar: 'between two planes' },
  zoneSize: {
    cylindrical: (size: string) => `⌀\u00a0${size}`,
    spherical: (size: string) => `S⌀\u00a0${size}`,
    planar: (size: string) => `width ${size}`,
  },
  types: {
    plane: 'plane',
    line: 'line',
    circle: 'circle',
    sphere: 'sphere',
    cylinder: 'cylinder',
    cone: 'cone',
    point: 'point',
    midplane: 'mid-plane',
    pattern: 'pattern',
  },
  associations: {
    gaussian: 'least squares (Gaussian)',
    'gaussian-outer': 'least squares, moved to the outermost point of the material',
    minimax: 'minimum zone (minimax)',
    'maximum-inscribed': 'maximum inscribed',
    'minimum-circumscribed': 'minimum circumscribed',
  },

  banner: {
    conforming: 'Conforming',
    nonconforming: 'Nonconforming',
    unproven: 'Conformity not proven',
    missing: 'Incomplete',
    all: (count: number) =>
      count === 1
        ? 'The one planned station was reduced and conforms.'
        : `All ${count} planned stations were reduced and conform.`,
    counts: (of: number, conforming: number, nonconforming: number, unproven: number, missing: number) =>
      `Of ${plural(of, 'planned station', 'planned stations')}, ${conforming === 0 ? 'none conforms' : `${conforming} conform${conforming === 1 ? 's' : ''}`}` +
      `${nonconforming > 0 ? `, ${nonconforming} ${nonconforming === 1 ? 'does' : 'do'} not conform` : ''}` +
      `${unproven > 0 ? `, ${unproven} ${unproven === 1 ? 'is' : 'are'} not proven` : ''}` +
      `${missing > 0 ? `, ${missing} ${missing === 1 ? 'is' : 'are'} missing` : ''}.`,
    worst: (position: string, upper: string | null, station: number, at: string, tolerance: string) =>
      `Largest position ${position}${upper === null ? '' : ` (U\u00a0${upper})`} at station\u00a0${station}, check point ${at}; tolerance ${tolerance}.`,
    pattern: (verdict: string) => `Position of the blades relative to each other: ${verdict}.`,
    noPosition: 'No position could be determined.',
  },

  identification: {
    title: 'Identification',
    plan: 'Plan',
    name: 'Part name',
    number: 'Part number',
    revision: 'Revision',
    serial: 'Serial number',
    material: 'Material',
    machine: 'Measuring machine',
    program: 'Measuring program',
    operator: 'Operator',
    date: 'Date of measurement',
    calibrationDue: 'Calibration due',
    points: 'Point file',
    planFile: 'Plan file',
    welds: 'Weld record',
    weldCounts: (welds: number, tools: readonly string[]) =>
      `${plural(welds, 'weld', 'welds')}${tools.length > 0 ? `, ${tools.length === 1 ? 'tool' : 'tools'} ${and(tools)}` : ''}`,
    noWelds: 'none given',
    made: 'Report made',
    software: 'Software',
  },

  summary: {
    title: 'Summary',
    map: 'Position of every blade',
    mapCaption:
      'Position as a share of its tolerance, seen from +Z; the dashed ring is the tolerance. The thin line ends at the upper bound.',
    outcome: 'Outcome',
    stations: 'Stations',
    count: 'Number',
    list: 'Station numbers',
    total: 'planned',
    facts: 'Largest values',
    largest: 'largest',
    at: 'Station',
    reason: 'Why a station is missing',
  },

  plan: {
    title: 'Plan and datums',
    stations: 'Stations',
    evenly: (count: number, first: string, clockwise: boolean) =>
      `${count}, evenly spaced from ${first}, ${clockwise ? 'clockwise' : 'counterclockwise'} seen from +Z`,
    listed: (count: number) => `${count}, at angles listed in the plan`,
    seat: 'Nominal blade seat',
    seatValue: (radius: string, axial: string, height: string, stagger: string) =>
      `radius ${radius}, axial ${axial}, height angle ${height}, stagger angle ${stagger}`,
    overridden: 'With values of their own',
    ownValues: 'Stations with values of their own',
    pose: 'Blade pose',
    poses: {
      datum: 'from the blade datums in their order of precedence',
      bestfit: 'best fit of all blade points to their nominal features',
    },
    checkPoints: 'Check points and limits',
    checkPoint: 'Check point',
    coordinates: 'At (oscillation, lateral, upset), mm',
    zone: 'Zone',
    tolerance: 'Tolerance',
    limits: 'Limits, as amounts',
    noLimits: 'no limits on single errors',
    relative: 'Relative to each other',
    hub: 'Hub datums: the disc frame',
    blade: 'Blade datums: the blade frame of each station',
    datum: 'Datum',
    feature: 'Feature',
    type: 'Type',
    association: 'Association',
    fixes: 'Freedoms fixed',
    points: 'Points',
    rms: 'rms',
    form: 'Form',
    weighted: 'weighted by 1/σ² from the file',
    screened: 'without the points that the robust screen flags',
    bestfit: 'fitted together with the others by least squares',
    order: 'In order of precedence: each datum takes the freedoms that the ones before it left.',
    residuals:
      'Rms and form are those of the distances of the points from the associated feature; form is peak to valley.',
    bladeNote: 'Points: fewest and most over the stations; rms and form: largest over the stations.',
  },

  decision: {
    title: 'Decision rule and measurement uncertainty',
    simple:
      'Rule: simple. The value is held against its limit; uncertainty is stated beside it and does not enter the verdict. The closer an accepted value lies to its limit, the closer the risk that the true value lies beyond comes to one half.',
    guarded: (probability: string, risk: string) =>
      `Rule: guarded (ISO 14253-1, JCGM 106). A value conforms where conformity is proven at a probability of ${probability}, and does not conform where non-conformity is proven at ${probability}; what is neither is stated as not proven. Of no accepted item is the consumer’s risk above ${risk}, of no rejected item the producer’s risk.`,
    factor: (factor: string, error: string, position: string) =>
      `Rule: guarded by a factor. A value conforms where it lies ${factor} expanded uncertainties or more within its limit, and does not conform where it lies as far beyond; what is neither is stated as not proven. At these bounds the risk is about ${error} for errors and ${position} for position, for uncertainties small against the limit.`,
    coverage: (coverage: string) =>
      `U is the expanded uncertainty at a coverage probability of ${coverage}: for errors the half-width of the coverage interval, for position its one-sided upper bound minus the value, because a position near zero has no symmetric interval. P is the probability that the true value keeps its limit; for a position with several check points, that all of them do.`,
    station:
      'A station does not conform if its position or any error with a limit does not; else it is not proven if any of them is not; else it conforms.',
    stated: 'What is stated about the measurement',
    probing: 'Standard uncertainty of a point',
    probingNone: 'not stated: taken from the file, or else from the residuals of the fits alone',
    scale: 'Relative standard uncertainty of the scale',
    scaleNone: 'not stated or zero: not counted',
    form: 'Correlation of form error between points',
    temperature: 'Temperature',
    applied: 'the file holds values for 20\u00a0°C; they are not scaled again',
    scaled: (part: string, expansion: string) =>
      `values scaled to 20\u00a0°C from a part at ${part}, expansion ${expansion}`,
    scaledByColumn: (expansion: string) =>
      `values scaled to 20\u00a0°C by the temperatures in the file, expansion ${expansion}`,
    temperatureUncertainty: (part: string, expansion: string) =>
      `standard uncertainty of the part temperature ${part}, of the expansion ${expansion}`,
    noTemperature: 'no statement; values are used as they stand',
    sources: 'Where the uncertainty of position comes from',
    source: 'Source',
    share: 'Share of the variance',
    shareCaption:
      'At the check point that decides, along its displacement: lowest, mean and highest share over the stations.',
    lowest: 'Lowest',
    mean: 'Mean',
    highest: 'Highest',
    sourceNames: {
      probing: 'probing (points of the blade)',
      form: 'form error of the blade features',
      frame: 'hub frame (common to all stations)',
      scale: 'scale of the machine',
      temperature: 'temperature',
    },
    none: 'Nothing is known of the uncertainty of these values: neither the plan nor the file states it, and the fits leave no residuals to judge by.',
  },

  stations: {
    title: 'Stations',
    table: 'The six errors, position and verdict of every station',
    station: 'St.',
    angle: 'Angle',
    position: 'Position',
    at: 'At',
    verdict: 'Verdict',
    limit: 'Limit',
    varies: 'varies',
    note: 'Errors of the measured blade against the nominal one in the axes of the nominal blade: displacements along, rotations ρ (right-handed) about oscillation, lateral and upset. Position is the largest over the check points, at full zone size. A mark × stands at an error beyond its limit, ? at one that is not proven.',
    figure: 'Errors around the disc',
    figureCaption: 'Each error against the station number, with its coverage interval. Dashed: limits.',
    disc: 'The same errors in the axes of the disc',
    discNote:
      'Radial, tangential (towards growing angle) and axial (towards +Z) displacement of the blade origin; lean tips the stacking axis in the tangential, sweep in the axial direction; stagger is positive for a larger stagger angle.',
  },

  station: {
    title: (station: number, verdict: string) => `Station ${station}: ${verdict}`,
    group: 'Stations that do not conform or are not proven',
    none: 'Every station conforms; there is none to show here.',
    missingOnly: 'Every station that was reduced conforms; missing stations are listed in the summary.',
    zone: 'Zone and check points',
    zoneCaption: (coverage: string) =>
      `Displacement of the check points across the blade, seen from the tip; dashed: the tolerance zone; ellipse: coverage region at ${coverage}.`,
    angle: 'Planned angle',
    position: 'Position',
    reasons: 'Beyond its limit or not proven',
    checkPoints: 'Position at the check points',
    displacement: 'Displacement (osc., lat., ups.)',
    value: 'Value',
    limit: 'Limit',
    errors: 'The six errors',
    errorsCaption: 'Bars: errors; whiskers: coverage intervals; shaded: within the limits.',
    limits: 'Errors, and those held against limits',
    noLimit: 'no limit stated',
    quantity: 'Quantity',
    disc: 'In the axes of the disc',
    features: 'Features of this blade',
    settle: 'What would settle it',
    unobserved: (name: string) =>
      `${name}: not observed by the blade features of this best fit. A further feature would determine it, or "pose": "datum" in the plan.`,
  },

  settle: {
    atLimit: 'The value lies at its limit: no smaller uncertainty would settle it.',
    conformity: 'Conformity',
    nonconformity: 'Non-conformity',
    proven: (what: string, needed: string, present: string) =>
      `${what} would be proven at the same value with a standard uncertainty of ${needed} instead of ${present}`,
    hub: 'more points on this blade cannot settle it, its hub frame, scale or temperature would have to be known better',
    points: (factor: string) => `about ${factor} times as many points on this blade would do`,
    both: (proof: string, how: string) => `${proof}; ${how}.`,
  },

  pattern: {
    title: 'Position of the blades relative to each other',
    text: (tolerance: string, free: readonly string[]) =>
      `Second level of position (pattern in the sense of ISO 5458): all zones of size ${tolerance} move together as one. Free motions of the pattern: ${and(free)}. The zones stand where the largest position is smallest.`,
    value: 'Largest position left',
    tolerance: 'Tolerance',
    verdict: 'Verdict',
    motion: 'Motion of the pattern of zones against the hub frame',
    freedoms: { x: 'along X', y: 'along Y', z: 'along Z', rotX: 'about X', rotY: 'about Y', rotZ: 'about Z' },
    undetermined: (freedoms: readonly string[]) =>
      `No zone sees the motion ${and(freedoms)}; it was left at zero.`,
    table: 'Position of every blade in the moved zones',
    missing: 'A pattern with a missing or unobserved blade is never stated as conforming.',
  },

  characteristics: {
    title: 'Accountability of characteristics',
    given:
      'Every characteristic of the plan, with its requirement and its results, in the sense of the characteristic accountability of SAE AS9102. What this measurement does not determine is listed as such and has to be accounted for elsewhere; requirements without a number in the plan follow at the end.',
    generated:
      'The plan lists no characteristics. The requirements held against limits in this report are numbered here, one for each station, in the sense of the characteristic accountability of SAE AS9102; the numbers of the drawing take their place.',
    table: 'Characteristics, requirements and results',
    number: 'No.',
    reference: 'Reference',
    quantity: 'Characteristic',
    requirement: 'Requirement',
    station: 'St.',
    result: 'Result',
    elsewhere: 'not determined by this measurement, account for it elsewhere',
    positionAt: (point: string) => `position, ${point}`,
    position: 'position',
    relative: 'position relative to each other',
    all: 'all',
    atMost: (size: string) => `≤\u00a0${size}`,
    amount: (limit: string) => `±${limit}`,
    notMeasured: 'not measured',
    totals: 'Requirements of the table, by outcome',
    outcome: 'Outcome',
    total: 'total',
  },

  causes: {
    title: 'Causes and corrections',
    banner: 'Engineering information',
    bannerText:
      'This section is not part of the statement of conformity. It separates the errors of this disc into components by their pattern around the disc and over the weld sequence; a component is a finding about a pattern, not a proof of its cause.',
    leading: (name: string, size: string, low: string, high: string, position: string | null) =>
      `Leading component: ${name}. Alone it displaces a check point by up to ${size} (${low} to ${high})${position === null ? '' : ` and uses up to ${position} of position in the zone of the plan`}.`,
    leadingNoSize: (name: string) => `Leading component: ${name}.`,
    noLeading: 'No component can be told from scatter.',
    components: {
      ringShift: 'ring shift and tilt',
      common: 'common axial shift and clocking',
      toolSetup: 'tool set-up',
      toolChange: 'tool change',
      wear: 'wear over the weld sequence',
      index: 'index',
      harmonics: 'harmonics around the disc',
      outliers: 'single stations that stand out',
      scatter: 'scatter',
    },
    table: 'Components in the order in which they are separated',
    component: 'Component',
    size: 'Displacement',
    position: 'Position',
    interval: 'Interval',
    at: 'At',
    share: 'Share',
    probability: 'p',
    finding: 'Finding',
    significant: 'significant',
    insignificant: 'not told from scatter',
    notExamined: 'not examined',
    notExaminedWhy: (names: readonly string[], reason: string) => `Not examined (${and(names)}): ${reason}`,
    tableNote: (coverage: string, rate: string) =>
      `Displacement: the largest, in any direction, of a check point that the component causes alone, with its interval at ${coverage}. Position: the largest that this makes in the zone of the plan, at full zone size (diameter or width), that is twice the displacement seen by the zone. Share: of the weighted sum of squares, in sequence. p: probability of as large a component from scatter alone, adjusted for all components (false discovery rate ${rate}).`,
    parameters: 'Parameters of the significant components',
    parameter: 'Parameter',
    value: 'Value',
    of: 'Of',
    confounded: (names: readonly string[]) =>
      `These cannot be told apart with the stations at hand: ${and(names.map((name) => `“${name}”`))}.`,
    outliers: (stations: readonly number[]) => `Stations that stand out: ${and(stations.map(String))}.`,
    budget: 'Budget',
    line: 'Line',
    allocated: 'Allocated',
    found: 'Found',
    used: 'Used',
    state: 'State',
    states: { within: 'within', undecided: 'undecided', over: 'over', unknown: 'not known' },
    budgetLines: {
      toolSetup: 'tool set-up',
      index: 'index',
      frame: 'hub frame and ring',
      wear: 'wear',
      toolChange: 'tool change',
      scatter: 'scatter',
    },
    corrections: 'Corrections for the next disc',
    correction: 'Correction',
    kinds: {
      tool: 'set the tools differently',
      hub: 'set the hub differently',
      index: 'correct the index',
      all: 'all of these',
    },
    before: 'Largest position before',
    after: 'after',
    conforming: 'Conforming after',
    settings: 'Settings',
    setting: (name: string, of: string | null, change: string) =>
      `${name}${of === null ? '' : ` (${of})`}\u00a0${change}`,
    conformingCount: (after: string, before: number) => `${after} (${before} before)`,
    notRecommended: 'Not recommended',
    objections: {
      fewer: 'fewer stations would conform than before',
      simpler: 'one of the corrections alone does as well on the next disc',
      noise: 'mostly fitted to the scatter of this disc',
    },
    correctionsNote:
      'Predicted for this disc from its measured errors, largest position over the stations that the correction serves. The next disc will have its own scatter.',
    freedoms: { x: 'X', y: 'Y', z: 'Z', rotX: 'about X', rotY: 'about Y', rotZ: 'about Z' },
    index: 'index',
    indexStations: (stations: string) => `index: stations ${stations}, each by its own angle (see below)`,
    indexTable: 'Index corrections by station',
    deviation: 'Deviation found',
    change: (correction: string) => `Change: ${correction}`,
    indexNote: (coverage: string) =>
      `Angles about the disc axis, positive towards growing angle. Deviation: of the station after the causes common to all, with its interval at ${coverage}. Change: what would be set differently; it serves the position of the worst blade and is therefore not simply the deviation with its sign reversed.`,
    parameterNames: {
      x: 'shift along X',
      y: 'shift along Y',
      tiltX: 'tilt about X',
      tiltY: 'tilt about Y',
      shift: 'shift of the ring',
      direction: 'direction of the shift from +X',
      axial: 'axial shift',
      clocking: 'clocking',
      amplitude: 'amplitude',
      phase: 'phase',
    },
    perWeld: 'per weld',
    harmonic: (channel: string, order: string) => `${channel}, order ${order}`,
    tools: 'Welds by tool',
    tool: 'Tool',
    toolStations: 'Stations in weld order',
  },

  exclusions: {
    title: 'Points left out and warnings',
    counts: (rows: string, used: string, excluded: string) =>
      `Rows read: ${rows}. Points used: ${used}. Rows left out: ${excluded}.`,
    none: 'No row was left out.',
    byReason: 'Rows left out, by reason',
    reason: 'Reason',
    rows: 'Rows',
    lines: 'Lines of the file',
    more: (count: number) => `and ${count} more`,
    listed: (most: number) =>
      `Of each reason the first ${most} lines are listed and the rest counted; result.json lists every one.`,
    screened: 'Points flagged by the robust screen',
    screenedNote: (total: number, excluded: number) =>
      `${plural(total, 'point was', 'points were')} flagged; ${excluded === 0 ? 'none was left out' : `${excluded} ${excluded === 1 ? 'was' : 'were'} left out`}.`,
    hub: 'hub',
    point: 'Point no.',
    distance: 'Distance',
    treatment: 'Treatment',
    leftOut: 'left out',
    kept: 'used',
    moreScreened: (count: number) =>
      `${plural(count, 'more flagged point is', 'more flagged points are')} listed in result.json.`,
    warnings: 'Warnings',
    noWarnings: 'There were no warnings.',
    verbatim: '',
    byHand: 'What stands behind “excluded by hand” are the words of the person who left the points out.',
  },

  statements: {
    title: 'What these numbers are',
    items: (criteria: readonly string[]) => [
      'The position of a blade is that of a rigid blade frame, found from the measured datum features of the blade and carried to the check point. The aerofoil between the datum features was not measured; nothing is stated about it.',
      `Features were associated with their points by: ${and(criteria)}. A drawing may ask for another criterion; the values then differ.`,
      'All values are regardless of feature size: no tolerance was enlarged by the size of a feature.',
      'Position is stated at full zone size (diameter or width), to be held against the value on the drawing as it stands.',
      'The uncertainty counts what is stated about the measurement and what the residuals of the fits show. It knows nothing of clamping, of the qualification of the probe or of a machine out of adjustment.',
      'The values describe where the blades are. They say nothing of the weld or of the material.',
    ],
  },

  fingerprints: {
    title: 'Input files',
    file: 'File',
    role: 'Content',
    sha: 'SHA-256',
    points: 'points',
    plan: 'plan',
    welds: 'weld record',
    note: 'Whoever holds a file with the same SHA-256 holds the same file, to the last byte.',
  },

  cautions: {
    title: 'Cautions',
    heading: 'Decision support only',
    items: [
      'This report supports a decision and does not make it. The drawing, the contract, local codes and the approved inspection authority govern; nothing here releases a part or replaces a qualified inspector.',
      'Verify the method on your own artefacts and your own machine before you rely on it: measure a disc or master of known condition, compare with the method trusted so far, keep the evidence, and repeat it after every update.',
    ],
  },

  signatures: {
    title: 'Signatures',
    roles: ['Measured by', 'Evaluated by', 'Approved by'],
    fields: ['Name', 'Signature', 'Date'],
    text: 'Signed for the measurement and its evaluation as stated above.',
  },

  freedoms: {
    translation: (axes: readonly string[]) => `translation along ${and(axes)}`,
    tilt: (axis: string) => `the two rotations that tilt ${axis}`,
    allRotations: 'all three rotations',
    rotation: (axes: readonly string[]) => `rotation about ${and(axes)}`,
    axes: {
      disc: { x: 'disc X', y: 'disc Y', z: 'the disc axis Z' },
      blade: { x: 'oscillation', y: 'lateral', z: 'upset' },
    },
  },
};
