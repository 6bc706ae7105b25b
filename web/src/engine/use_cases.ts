// Made by web/tools/make_types.mjs from data/schemas; not to be edited.

/**
 * a number with its unit, as spoken: 22F, 41 psig, -3 inHg, 3 1/4 oz
 */
export type Spoken = string;
export type Units = 'us' | 'metric';

/**
 * Everything that can be asked, by name: what goes in and what comes out.
 */
export interface UseCases {
  card: {
    request: CardRequest;
    answer: CardAnswer;
  };
  chart: {
    request: ChartRequest;
    answer: ChartAnswer;
  };
  diagnose: {
    request: DiagnoseRequest;
    answer: DiagnoseAnswer;
  };
  example: {
    request: ExampleRequest;
    answer: ExampleAnswer;
  };
  expect: {
    request: ExpectRequest;
    answer: ExpectAnswer;
  };
  hose: {
    request: HoseRequest;
    answer: HoseAnswer;
  };
  leak: {
    request: LeakRequest;
    answer: LeakAnswer;
  };
  plan: {
    request: PlanRequest;
    answer: PlanAnswer;
  };
  quantity: {
    request: QuantityRequest;
    answer: QuantityAnswer;
  };
  refrigerant: {
    request: RefrigerantRequest;
    answer: RefrigerantAnswer;
  };
  refrigerants: {
    request: RefrigerantsRequest;
    answer: RefrigerantsAnswer;
  };
  room: {
    request: RoomRequest;
    answer: RoomAnswer;
  };
  saturation: {
    request: SaturationRequest;
    answer: SaturationAnswer;
  };
  schema: {
    request: SchemaRequest;
    answer: SchemaAnswer;
  };
  standing: {
    request: StandingRequest;
    answer: StandingAnswer;
  };
  state: {
    request: StateRequest;
    answer: StateAnswer;
  };
  superheat: {
    request: SuperheatRequest;
    answer: SuperheatAnswer;
  };
  vacuum: {
    request: VacuumRequest;
    answer: VacuumAnswer;
  };
  vocabulary: {
    request: VocabularyRequest;
    answer: VocabularyAnswer;
  };
}
/**
 * without from, to or step: -40 to 140 °F by 2, or -40 to 60 °C by 1; at most 400 rows
 */
export interface CardRequest {
  /**
   * @minItems 1
   * @maxItems 40
   */
  refrigerants: string[];
  from?: Spoken;
  to?: Spoken;
  step?: Spoken;
  altitude?: Spoken;
  barometer?: Spoken;
  units?: Units;
}
export interface CardAnswer {
  about: About;
  units: 'us' | 'metric';
  site_pressure: Quantity;
  words: {
    title: string;
    works: string;
    bubble: string;
    dew: string;
    glide: string;
    page: string;
    works_on_page: string;
  };
  notes: Statement[];
  cautions: Statement[];
  /**
   * @minItems 1
   * @maxItems 40
   */
  columns: {
    refrigerant: string;
    blend: boolean;
    safety_class: string | null;
    safety_class_recalled: boolean;
  }[];
  /**
   * @minItems 1
   * @maxItems 400
   */
  rows: {
    temperature: Quantity;
    /**
     * @minItems 1
     * @maxItems 40
     *
     * Items: of a pure refrigerant, or of a blend; null above the critical point and below the equation's reach
     */
    cells: (
      | {
          pressure: Quantity | null;
        }
      | {
          bubble: Quantity | null;
          dew: Quantity | null;
          glide: Quantity | null;
        }
    )[];
  }[];
}
export interface About {
  program: 'coldwright';
  version: string;
  /**
   * fingerprint of the data carried inside the program
   */
  data: string;
  seed?: number;
  references: {
    key: string;
    citation: string;
  }[];
}
export interface Quantity {
  /**
   * SI; pressures absolute in Pa, temperatures in K, percent and minutes as they are
   */
  si: number | null;
  /**
   * in the unit shown
   */
  value: number | null;
  unit: string;
  text: string;
}
export interface Statement {
  key: string;
  text: string;
  values: {
    [k: string]: Quantity;
  };
  words: {
    [k: string]: string;
  };
}
/**
 * either a refrigerant, with or without the two sides of a cycle; or a call, which carries its refrigerant and site itself
 */
export interface ChartRequest {
  refrigerant?: string;
  low?: Spoken;
  high?: Spoken;
  evaporating?: Spoken;
  condensing?: Spoken;
  superheat?: Spoken;
  subcooling?: Spoken;
  efficiency?: Spoken;
  /**
   * @maxItems 26
   */
  points?: {
    name?: string;
    p: Spoken;
    t: Spoken;
  }[];
  diagram?: 'enthalpy' | 'temperature' | 'both';
  /**
   * the diagrams alone, this many units wide, without title, key, states, notes and style sheet: for a page that brings those
   */
  picture_width?: number;
  altitude?: Spoken;
  barometer?: Spoken;
  units?: Units;
  /**
   * a call as the schema "call" describes it
   */
  call?: {};
  /**
   * the text of a call file, instead of "call"
   */
  call_text?: string;
  /**
   * the answer that "diagnose" gave for this call, so that it isn't reckoned again; "unseen", "evidence" and "about" are enough
   */
  diagnosis?: {};
  seed?: number;
  population?: number;
}
export interface ChartAnswer {
  about: About;
  refrigerant: string;
  safety_class: string | null;
  site_pressure: Quantity;
  cautions: Statement[];
  remarks: string[];
  /**
   * @maxItems 2
   */
  cycles: {
    role: 'given' | 'sound' | 'inferred';
    label: string;
    /**
     * @minItems 4
     * @maxItems 4
     */
    states: {
      place: 'into_compressor' | 'out_of_compressor' | 'leaving_condenser' | 'into_evaporator';
      label: string;
      pressure: Quantity;
      temperature: Quantity;
      enthalpy: Quantity;
      entropy: Quantity;
      quality?: Quantity;
    }[];
  }[];
  /**
   * @maxItems 26
   */
  points: {
    label: string;
    pressure: Quantity;
    temperature: Quantity;
    /**
     * null where pressure and temperature don't fix the state
     */
    enthalpy: Quantity | null;
    against_sound: 'within' | 'above' | 'below' | 'unknown';
  }[];
  /**
   * the drawing, a document of its own; 390 units wide, light or dark by the reader's preference
   */
  svg: string;
}
export interface DiagnoseRequest {
  /**
   * a call as the schema "call" describes it
   */
  call?: {};
  /**
   * the text of a call file, instead of "call"
   */
  call_text?: string;
  seed?: number;
  population?: number;
  units?: Units;
}
export interface DiagnoseAnswer {
  about: About;
  call: CallHeading;
  remarks: Statement[];
  cautions: Statement[];
  causes: {
    cause: string;
    label: string;
    probability: number;
    error: number;
    probability_text: string;
    in_words: string;
    severity: {
      measure: string;
      low: number;
      mid: number;
      high: number;
    } | null;
    severity_2: {
      measure: string;
      low: number;
      mid: number;
      high: number;
    } | null;
    severity_text: string;
  }[];
  reasons: Statement[];
  evidence: (
    | {
        kind: 'reading';
        id: string;
        subject: string;
        label: string;
        log_odds: number;
        bits: number;
        given: Quantity;
        expected_if_sound: Interval | null;
        against_sound: 'below' | 'within' | 'above' | 'unknown';
      }
    | {
        kind: 'observation';
        id: string;
        subject: string;
        label: string;
        log_odds: number;
        bits: number;
        value: string;
        value_label: string;
      }
  )[];
  unseen: Unseen[];
  next: {
    subject: string;
    label: string;
    kind: 'reading' | 'observation';
    bits: number;
    minutes: number;
    grams_lost: number;
    opens_circuit: boolean;
    hazard: string;
    hazard_text: string;
    worth: number;
  }[];
  turnings: {
    reading: string;
    label: string;
    already_read: boolean;
    given: Quantity | null;
    value: Quantity;
    swaps: 'above' | 'below';
    first: string;
    second: string;
    chance: number;
    text: string;
  }[];
  suspects: {
    id: string;
    reading: string;
    label: string;
    value: Quantity;
    plausible: Interval;
    probability_mistaken: number;
    text: string;
  }[];
  quality: Quality;
}
export interface CallHeading {
  name: string;
  refrigerant: string;
  safety_class: string | null;
  cabinet: string;
  cabinet_label: string;
  units: Units;
  site_pressure: Quantity;
  ambient: Quantity | null;
  box: Quantity | null;
  charge: Quantity | null;
}
/**
 * 5 %, 50 % and 95 %
 */
export interface Interval {
  low: Quantity;
  mid: Quantity;
  high: Quantity;
  text: string;
}
export interface Unseen {
  quantity: string;
  label: string;
  interval: Interval;
  sound: Interval | null;
}
export interface Quality {
  effective_sample_size: number;
  smallest_effective_size: number;
  solves: number;
  unsolved: number;
  refined_rounds: number;
  trustworthy: boolean;
  remarks: Statement[];
}
export interface ExampleRequest {}
export interface ExampleAnswer {
  /**
   * a call file to fill in
   */
  call_text: string;
  words: {
    refrigerants: string[];
    cabinets: {
      word: string;
      label: string;
      refrigerant: string;
    }[];
    observations: {
      word: string;
      label: string;
      values: string[];
    }[];
    readings: {
      word: string;
      label: string;
      written_as: string;
      place: string;
    }[];
  };
}
export interface ExpectRequest {
  /**
   * a call as the schema "call" describes it
   */
  call?: {};
  /**
   * the text of a call file, instead of "call"
   */
  call_text?: string;
  seed?: number;
  population?: number;
  units?: Units;
}
export interface ExpectAnswer {
  about: About;
  call: CallHeading;
  remarks: Statement[];
  cautions: Statement[];
  now: ExpectedState;
  set_point: ExpectedState;
  rules_of_thumb: {
    quantity: string;
    label: string;
    rule: Interval;
    physics_now: Interval;
    physics_set_point: Interval;
    where_they_part: Statement[];
  }[];
  quality: Quality;
}
export interface ExpectedState {
  ambient: Quantity;
  box: Quantity;
  readings: {
    reading: string;
    label: string;
    interval: Interval;
  }[];
  quantities: Unseen[];
}
export interface HoseRequest {
  refrigerant: string;
  pressure?: Spoken;
  t?: Spoken;
  length?: Spoken;
  bore?: Spoken;
  hoses?: number;
  charge?: Spoken;
  altitude?: Spoken;
  barometer?: Spoken;
  units?: Units;
}
export interface HoseAnswer {
  about: About;
  refrigerant: string;
  safety_class: string | null;
  site_pressure: Quantity;
  cautions: Statement[];
  pressure: Quantity;
  temperature: Quantity;
  hoses: number;
  length: Quantity;
  bore: Quantity;
  volume: Quantity;
  vapour: {
    mass: Quantity;
    of_charge: Quantity | null;
  };
  liquid: {
    mass: Quantity;
    of_charge: Quantity | null;
  };
  statements: Statement[];
}
export interface LeakRequest {
  /**
   * a blend, or a composition such as R32/R125/R134a 23/25/52
   */
  refrigerant: string;
  /**
   * share of the charge that has gone, 30 % unless told; up to 95 %
   */
  lost?: string;
  from?: 'vapour' | 'liquid';
  t?: Spoken;
  /**
   * the liquid's share of the volume at the start, 30 % unless told
   */
  liquid?: string;
  altitude?: Spoken;
  barometer?: Spoken;
  units?: Units;
}
export interface LeakAnswer {
  about: About;
  refrigerant: string;
  safety_class: string | null;
  site_pressure: Quantity;
  cautions: Statement[];
  temperature: Quantity;
  from: 'vapour' | 'liquid';
  lost: Quantity;
  liquid_at_start: Quantity;
  as_sold: {
    composition: {
      designation: string;
      share: Quantity;
    }[];
    bubble_pressure: Quantity;
    dew_pressure: Quantity;
  };
  left: {
    composition: {
      designation: string;
      share: Quantity;
    }[];
    bubble_pressure: Quantity;
    dew_pressure: Quantity;
  };
  topped_up: {
    composition: {
      designation: string;
      share: Quantity;
    }[];
    bubble_pressure: Quantity;
    dew_pressure: Quantity;
  };
  steps: {
    lost: Quantity;
    pressure: Quantity;
    left: {
      designation: string;
      share: Quantity;
    }[];
    leaving: {
      designation: string;
      share: Quantity;
    }[];
    liquid_left: boolean;
  }[];
}
export interface PlanRequest {
  /**
   * a call as the schema "call" describes it
   */
  call?: {};
  /**
   * the text of a call file, instead of "call"
   */
  call_text?: string;
  seed?: number;
  population?: number;
  units?: Units;
  /**
   * a diagnosis at hand; without it the call is diagnosed
   *
   * @maxItems 400
   */
  causes?: {
    cause: string;
    probability: number;
  }[];
}
export interface PlanAnswer {
  about: About;
  call: CallHeading;
  remarks: Statement[];
  cautions: Statement[];
  /**
   * whether the leading cause is sure enough to act on
   */
  decided: boolean;
  opens_circuit: boolean;
  leads: {
    cause: string;
    label: string;
    probability: number;
    probability_text: string;
  }[];
  steps: {
    key: string;
    title: string;
    why: string;
    state: 'open' | 'done' | 'skipped';
    reason: string;
    cautions: Statement[];
    /**
     * the use case that computes it
     */
    procedure: string | null;
    skippable: boolean;
  }[];
}
export interface QuantityRequest {
  kind:
    | 'temperature'
    | 'temperature_difference'
    | 'pressure'
    | 'pressure_difference'
    | 'mass'
    | 'length'
    | 'area'
    | 'volume'
    | 'volume_flow'
    | 'mass_flow'
    | 'current'
    | 'voltage'
    | 'resistance'
    | 'power'
    | 'time'
    | 'frequency';
  /**
   * as typed or spoken: -3in, 41.5, 3 1/4 oz, minus three inches
   */
  text: string;
  /**
   * what a bare number is in, such as psig, inHg vac or °F; without it the kind's own in these units
   */
  default_unit?: string;
  altitude?: Spoken;
  barometer?: Spoken;
  units?: Units;
}
export interface QuantityAnswer {
  about: About;
  kind:
    | 'temperature'
    | 'temperature_difference'
    | 'pressure'
    | 'pressure_difference'
    | 'mass'
    | 'length'
    | 'area'
    | 'volume'
    | 'volume_flow'
    | 'mass_flow'
    | 'current'
    | 'voltage'
    | 'resistance'
    | 'power'
    | 'time'
    | 'frequency';
  given: string;
  /**
   * as the call file takes it: 41.5 psig
   */
  text: string;
  value: Quantity;
  default_unit: string;
  unit_assumed: boolean;
  against_assumed: boolean;
  site_pressure: Quantity;
  /**
   * a meter that shows OL: no number
   */
  open: boolean;
  /**
   * the same amount in every unit of its kind
   */
  same: Quantity[];
  remarks: Statement[];
}
export interface RefrigerantRequest {
  /**
   * a designation, a name, or a composition such as R32/R125/R134a 23/25/52
   */
  refrigerant: string;
  units?: Units;
}
export interface RefrigerantAnswer {
  about: About;
  designation: string;
  kind: 'pure' | 'blend' | 'composition';
  name: string | null;
  cas: string | null;
  also_called: string[];
  /**
   * the designation of a composition that has one
   */
  same_as: string | null;
  composition_text: string;
  /**
   * @minItems 1
   */
  composition: {
    designation: string;
    name: string;
    mass_fraction: Quantity;
    tolerance_plus: Quantity | null;
    tolerance_minus: Quantity | null;
  }[];
  composition_source: string | null;
  tolerance_source: string | null;
  safety_class: {
    value: string;
    text: string;
    /**
     * keys of the works in about.references, with their place
     */
    cited: string;
    edition: string;
    /**
     * recalled from memory, or computed from what is: not to be used as a limit unmarked
     */
    recalled: boolean;
  } | null;
  /**
   * the designation standard's first, where known
   */
  lower_flammability_limits: {
    density: Quantity;
    volume_fraction: Quantity | null;
    text: string;
    /**
     * keys of the works in about.references, with their place
     */
    cited: string;
    edition: string;
    /**
     * recalled from memory, or computed from what is: not to be used as a limit unmarked
     */
    recalled: boolean;
  }[];
  warming: {
    report: string;
    years: number;
    figure: RelativeFigure | null;
  }[];
  ozone_depletion: RelativeFigure | null;
  oils: {
    family: string;
    name: string;
  }[];
  oils_source: string | null;
  note: string | null;
  critical_point: {
    temperature: Quantity;
    pressure: Quantity;
  } | null;
  normal_boiling_point: {
    bubble: Quantity;
    dew: Quantity;
  } | null;
  /**
   * key of the equation that the critical and boiling points follow from
   */
  equation: string | null;
  cautions: Statement[];
}
export interface RelativeFigure {
  value: Quantity;
  text: string;
  /**
   * keys of the works in about.references, with their place
   */
  cited: string;
  /**
   * recalled from memory, or computed from what is: not to be used as a limit unmarked
   */
  recalled: boolean;
  counted_as_zero: string[];
}
export interface RefrigerantsRequest {}
export interface RefrigerantsAnswer {
  about: About;
  refrigerants: {
    designation: string;
    kind: 'pure' | 'blend';
    name: string;
    safety_class: string | null;
    safety_class_recalled: boolean;
    warming: {
      AR4: RelativeFigure | null;
      AR5: RelativeFigure | null;
      AR6: RelativeFigure | null;
    };
    equation_carried: boolean;
  }[];
}
export interface RoomRequest {
  /**
   * one that burns, such as R290
   */
  refrigerant: string;
  charge: Spoken;
  area?: Spoken;
  height?: Spoken;
  volume?: Spoken;
  /**
   * of the lower flammability limit, 25 % unless told
   */
  share?: string;
  t?: Spoken;
  altitude?: Spoken;
  barometer?: Spoken;
  units?: Units;
}
export interface RoomAnswer {
  about: About;
  refrigerant: string;
  safety_class: string | null;
  site_pressure: Quantity;
  cautions: Statement[];
  charge: Quantity;
  share: Quantity;
  height: Quantity;
  limit: {
    density: Quantity;
    tabulated: Quantity;
    cited: string;
    edition: string;
    recalled: boolean;
  };
  smallest_volume: Quantity;
  smallest_area: Quantity;
  customary: {
    key: string;
    limit: Quantity;
    within: boolean;
    text: string;
  }[];
  room: {
    volume: Quantity;
    density: Quantity;
    volume_share: Quantity;
    of_limit: Quantity;
    within: boolean;
    largest_charge: Quantity;
  } | null;
  statements: Statement[];
}
export interface SaturationRequest {
  refrigerant: string;
  at: Spoken | Spoken[];
  altitude?: Spoken;
  barometer?: Spoken;
  units?: Units;
}
export interface SaturationAnswer {
  about: About;
  refrigerant: string;
  safety_class: string | null;
  site_pressure: Quantity;
  cautions: Statement[];
  rows: {
    given: string;
    gave: 'temperature' | 'pressure';
    temperature?: Quantity;
    pressure?: Quantity;
    pressure_absolute?: Quantity;
    latent_heat: Quantity;
    liquid: PhaseSide;
    vapour: PhaseSide;
    glide?: Quantity;
  }[];
}
export interface PhaseSide {
  density: Quantity;
  enthalpy: Quantity;
  entropy: Quantity;
  temperature: Quantity;
  pressure: Quantity;
  pressure_absolute: Quantity;
}
export interface SchemaRequest {
  name?: string;
}
export interface SchemaAnswer {
  names: string[];
  schema: {} | null;
}
export interface StandingRequest {
  refrigerant: string;
  t: Spoken;
  spread?: Spoken;
  pressure?: Spoken;
  to?: Spoken;
  altitude?: Spoken;
  barometer?: Spoken;
  units?: Units;
}
export interface StandingAnswer {
  about: About;
  refrigerant: string;
  safety_class: string | null;
  site_pressure: Quantity;
  cautions: Statement[];
  temperature: Quantity;
  spread: Quantity;
  expected: Interval;
  reading: {
    pressure: Quantity;
    stands: 'above' | 'within' | 'below';
    saturation: Quantity | null;
    excess: Quantity;
  } | null;
  moved: {
    temperature: Quantity;
    liquid: Quantity;
    gas: Quantity;
  } | null;
  statements: Statement[];
}
/**
 * exactly two of t with p, density or quality; p with h, s or quality
 */
export interface StateRequest {
  refrigerant: string;
  t?: Spoken;
  p?: Spoken;
  h?: Spoken;
  s?: Spoken;
  density?: Spoken;
  quality?: Spoken;
  altitude?: Spoken;
  barometer?: Spoken;
  units?: Units;
}
export interface StateAnswer {
  about: About;
  refrigerant: string;
  safety_class: string | null;
  site_pressure: Quantity;
  cautions: Statement[];
  state: {
    phase: 'liquid' | 'vapour' | 'two_phase' | 'supercritical';
    phase_text: string;
    temperature: Quantity;
    pressure: Quantity;
    pressure_absolute: Quantity;
    density: Quantity;
    enthalpy: Quantity;
    internal_energy: Quantity;
    entropy: Quantity;
    quality?: Quantity;
    cp?: Quantity;
    cv?: Quantity;
    speed_of_sound?: Quantity;
    viscosity?: Quantity;
    conductivity?: Quantity;
    saturation_temperature?: Quantity;
    superheat?: Quantity;
    subcooling?: Quantity;
    bubble_temperature?: Quantity;
    dew_temperature?: Quantity;
    glide?: Quantity;
    viscosity_uncertainty?: Quantity;
    conductivity_uncertainty?: Quantity;
  };
}
export interface SuperheatRequest {
  refrigerant: string;
  suction_pressure?: Spoken;
  suction_temperature?: Spoken;
  head_pressure?: Spoken;
  liquid_temperature?: Spoken;
  altitude?: Spoken;
  barometer?: Spoken;
  units?: Units;
}
export interface SuperheatAnswer {
  about: About;
  refrigerant: string;
  safety_class: string | null;
  site_pressure: Quantity;
  cautions: Statement[];
  superheat: {
    pressure: Quantity;
    line: Quantity;
    saturation: Quantity;
    difference: Interval;
    state: 'single_phase' | 'near_saturation' | 'impossible';
  } | null;
  subcooling: {
    pressure: Quantity;
    line: Quantity;
    saturation: Quantity;
    difference: Interval;
    state: 'single_phase' | 'near_saturation' | 'impossible';
  } | null;
  glide: Quantity | null;
  statements: Statement[];
}
export interface VacuumRequest {
  pressure?: Spoken;
  t?: Spoken;
  wall?: Spoken;
  altitude?: Spoken;
  barometer?: Spoken;
  units?: Units;
}
export interface VacuumAnswer {
  about: About;
  temperature: Quantity;
  /**
   * one pressure in every unit
   */
  pressure: Quantity[];
  form: 'ice' | 'liquid';
  wall: Quantity | null;
  boils: boolean | null;
  statements: Statement[];
}
export interface VocabularyRequest {}
export interface VocabularyAnswer {
  /**
   * of every label and text here
   */
  language: 'en' | 'es' | 'fr';
  /**
   * each named in itself
   */
  languages: {
    word: string;
    label: string;
  }[];
  /**
   * the two systems that answers are written in
   */
  units: {
    word: string;
    label: string;
  }[];
  /**
   * where on the machine, in the order the refrigerant goes round; what is no part of the circuit stands behind
   */
  parts: {
    word: string;
    label: string;
  }[];
  /**
   * what is usual where the plate is silent: our estimate
   */
  cabinets: {
    word: string;
    label: string;
    /**
     * the usual one
     */
    refrigerant: string;
    set_point: {
      us: Quantity;
      metric: Quantity;
    };
    charge: {
      us: Quantity;
      metric: Quantity;
    };
    rated_current: {
      us: Quantity;
      metric: Quantity;
    };
    rated_voltage: {
      us: Quantity;
      metric: Quantity;
    };
    /**
     * a word of condensers
     */
    condenser: string;
  }[];
  condensers: {
    word: string;
    label: string;
  }[];
  /**
   * those a call may name; the usual ones first
   */
  refrigerants: {
    word: string;
    label: string;
    /**
     * chemical name or composition
     */
    name: string;
    /**
     * null where not known
     */
    safety_class: string | null;
    /**
     * to be treated as flammable: also where the class is not known
     */
    flammable: boolean;
    /**
     * the usual one in some cabinet
     */
    usual: boolean;
  }[];
  /**
   * what an observation takes of the person
   */
  groups: {
    word: string;
    label: string;
  }[];
  observations: {
    word: string;
    label: string;
    question: string;
    /**
     * a word of parts
     */
    part: string;
    /**
     * a word of groups
     */
    group: string;
    minutes: number;
    /**
     * empty when none beyond the usual
     */
    hazard: string;
    hazard_text: string;
    /**
     * the first is the unremarkable one
     */
    values: {
      word: string;
      label: string;
    }[];
  }[];
  readings: {
    word: string;
    label: string;
    place: string;
    /**
     * a word of parts
     */
    part: string;
    /**
     * a word of quantities
     */
    quantity: string;
    written_as: string;
    /**
     * the usual one
     */
    unit: {
      us: string;
      metric: string;
    };
    /**
     * the limits taken at a usual reading where the instrument's are not given
     */
    accuracy: {
      us: Quantity;
      metric: Quantity;
    };
    minutes: number;
    /**
     * refrigerant lost by taking it
     */
    grams_lost: number;
    opens_circuit: boolean;
    /**
     * empty when none beyond the usual
     */
    hazard: string;
    hazard_text: string;
  }[];
  quantities: {
    word: string;
    label: string;
    /**
     * in order of usefulness; each may stand behind a number as it is
     */
    units: {
      us: string[];
      metric: string[];
    };
  }[];
}

export type UseCaseName = keyof UseCases;
