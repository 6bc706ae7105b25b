// Made by web/tools/make_types.mjs from data/schemas; not to be edited.

/**
 * a number with its unit, as spoken: 22F, 41 psig, -3 inHg, 3 1/4 oz
 */
export type Spoken = string;
export type Units = 'us' | 'metric';
/**
 * in the order of time, each with "after" (since the start) or "at"
 *
 * @maxItems 5000
 */
export type TestReadings = {
  after?: Spoken;
  /**
   * RFC 3339
   */
  at?: string;
  pressure?: Spoken;
  temperature?: Spoken;
  box?: Spoken;
  current?: Spoken;
  mass?: Spoken;
  flow?: Spoken;
}[];
export type TraceWhat =
  | 'time'
  | 'date'
  | 'time_of_day'
  | 'power'
  | 'current'
  | 'voltage'
  | 'suction_pressure'
  | 'discharge_pressure'
  | 'box_temp'
  | 'ambient_temp'
  | 'coil_temp'
  | 'evaporator_inlet_temp'
  | 'evaporator_outlet_temp'
  | 'evaporator_air_out_temp'
  | 'suction_line_temp'
  | 'discharge_line_temp'
  | 'condenser_middle_temp'
  | 'condenser_air_out_temp'
  | 'liquid_line_temp'
  | 'shell_temp'
  | 'superheat'
  | 'energy'
  | 'energy_counter'
  | 'door'
  | 'sensor_name'
  | 'sensor_value'
  | 'other'
  | 'comment'
  | 'unknown';

/**
 * Everything that can be asked, by name: what goes in and what comes out.
 */
export interface UseCases {
  bring: {
    request: BringRequest;
    answer: ProcedureAnswer;
  };
  capillary: {
    request: CapillaryRequest;
    answer: ProcedureAnswer;
  };
  card: {
    request: CardRequest;
    answer: CardAnswer;
  };
  charging: {
    request: ChargingRequest;
    answer: ProcedureAnswer;
  };
  chart: {
    request: ChartRequest;
    answer: ChartAnswer;
  };
  diagnose: {
    request: DiagnoseRequest;
    answer: DiagnoseAnswer;
  };
  evacuation: {
    request: EvacuationRequest;
    answer: ProcedureAnswer;
  };
  example: {
    request: ExampleRequest;
    answer: ExampleAnswer;
  };
  expect: {
    request: ExpectRequest;
    answer: ExpectAnswer;
  };
  flammable: {
    request: FlammableRequest;
    answer: ProcedureAnswer;
  };
  hose: {
    request: HoseRequest;
    answer: HoseAnswer;
  };
  leak: {
    request: LeakRequest;
    answer: LeakAnswer;
  };
  memory: {
    request: MemoryRequest;
    answer: MemoryAnswer;
  };
  opening: {
    request: OpeningRequest;
    answer: ProcedureAnswer;
  };
  plan: {
    request: PlanRequest;
    answer: PlanAnswer;
  };
  practice_call: {
    request: PracticeCallRequest;
    answer: PracticeCallAnswer;
  };
  practice_debrief: {
    request: PracticeDebriefRequest;
    answer: PracticeDebriefAnswer;
  };
  practice_step: {
    request: PracticeStepRequest;
    answer: PracticeStepAnswer;
  };
  proof: {
    request: ProofRequest;
    answer: ProcedureAnswer;
  };
  quantity: {
    request: QuantityRequest;
    answer: QuantityAnswer;
  };
  record: {
    request: RecordRequest;
    answer: RecordAnswer;
  };
  refrigerant: {
    request: RefrigerantRequest;
    answer: RefrigerantAnswer;
  };
  refrigerants: {
    request: RefrigerantsRequest;
    answer: RefrigerantsAnswer;
  };
  rise: {
    request: RiseRequest;
    answer: ProcedureAnswer;
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
  tightness: {
    request: TightnessRequest;
    answer: ProcedureAnswer;
  };
  trace: {
    request: TraceRequest;
    answer: TraceAnswer;
  };
  trace_layout: {
    request: TraceLayoutRequest;
    answer: TraceLayoutAnswer;
  };
  tracer: {
    request: TracerRequest;
    answer: ProcedureAnswer;
  };
  tube: {
    request: TubeRequest;
    answer: ProcedureAnswer;
  };
  vacuum: {
    request: VacuumRequest;
    answer: VacuumAnswer;
  };
  vocabulary: {
    request: VocabularyRequest;
    answer: VocabularyAnswer;
  };
  worth: {
    request: WorthRequest;
    answer: ProcedureAnswer;
  };
}
export interface BringRequest {
  /**
   * a call; what the request itself doesn't say is taken from it
   */
  call?: {};
  /**
   * the text of a call file, instead
   */
  call_text?: string;
  /**
   * which time this was done, 1 unless told
   */
  run?: number;
  pressure?: Spoken;
  t?: Spoken;
  seed?: number;
  population?: number;
  units?: Units;
}
/**
 * The one form in which every procedure of the repair answers.
 */
export interface ProcedureAnswer {
  about: About;
  procedure: string;
  refrigerant: string | null;
  safety_class: string | null;
  site_pressure: Quantity;
  verdict: Statement | null;
  cautions: Statement[];
  statements: Statement[];
  /**
   * questions back, such as about readings out of order
   */
  asks: Statement[];
  figures: Figure[];
  tables: {
    key: string;
    label: string;
    columns: {
      key: string;
      label: string;
    }[];
    rows: string[][];
  }[];
  curves: {
    key: string;
    label: string;
    x: {
      label: string;
      unit: string;
    };
    y: {
      label: string;
      unit: string;
    };
    lines: {
      key: string;
      label: string;
      kind: 'measured' | 'predicted' | 'low' | 'high' | 'limit';
      points: number[][];
    }[];
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
 * a number that opens to its formula, inputs and sources
 */
export interface Figure {
  key: string;
  label: string;
  value: Quantity | null;
  range: Interval | null;
  text: string;
  formula: string;
  where: {
    key: string;
    symbol: string;
    label: string;
    text: string;
  }[];
  cited: string[];
  basis: 'published' | 'common_practice' | 'from_memory' | 'our_estimate' | 'computed';
  basis_text: string;
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
export interface CapillaryRequest {
  /**
   * R290; the cabinet's usual one unless told
   */
  refrigerant?: string;
  /**
   * kind of cabinet, such as reach_in_cooler: the machines that fit its plate stand in for what nobody measured
   */
  cabinet?: string;
  charge?: Spoken;
  rated_current?: Spoken;
  rated_voltage?: Spoken;
  frequency?: Spoken;
  set_point?: Spoken;
  bore?: Spoken;
  bore_spread?: Spoken;
  length?: Spoken;
  length_spread?: Spoken;
  supply?: Spoken;
  side_plate?: Spoken;
  behind?: Spoken;
  gauge_spread?: Spoken;
  t?: Spoken;
  t_spread?: Spoken;
  flow?: Spoken;
  flow_spread?: Spoken;
  flow_at?: Spoken;
  volume?: Spoken;
  volume_spread?: Spoken;
  fell_to?: Spoken;
  time?: Spoken;
  time_spread?: Spoken;
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
   * which run of this procedure in the call, 1 unless told
   */
  run?: number;
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
/**
 * A charge by mass and by what the machine reads.
 */
export interface ChargingRequest {
  /**
   * a call as the schema "call" describes it: fills in what isn't given
   */
  call?: {};
  /**
   * the text of a call file, instead of "call"
   */
  call_text?: string;
  /**
   * of a call that has it several times: which
   */
  run?: number;
  /**
   * of the plate
   */
  refrigerant?: string;
  charge?: Spoken;
  stays?: Spoken;
  before?: Spoken;
  after?: Spoken;
  resolution?: Spoken;
  bore?: Spoken;
  length?: Spoken;
  /**
   * how many, 1 to 9
   */
  hoses?: number | string;
  /**
   * vapour, liquid or empty: what stays in the hoses
   */
  hose_state?: string;
  hose_pressure?: Spoken;
  /**
   * kind of cabinet, as in a call
   */
  cabinet?: string;
  rated_current?: Spoken;
  rated_voltage?: Spoken;
  frequency?: Spoken;
  set_point?: Spoken;
  /**
   * kind of condenser, as in a call
   */
  condenser?: string;
  t?: Spoken;
  box?: Spoken;
  readings?: TestReadings;
  /**
   * of the drawn machines, 0 to 9007199254740991
   */
  seed?: number | string;
  /**
   * machines drawn, 10 to 2000
   */
  population?: number | string;
  altitude?: Spoken;
  barometer?: Spoken;
  units?: Units;
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
  /**
   * a memory as the schema "memory" describes it, from the use case "memory"
   */
  memory?: {};
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
/**
 * How a vacuum comes.
 */
export interface EvacuationRequest {
  /**
   * a call as the schema "call" describes it: fills in what isn't given
   */
  call?: {};
  /**
   * the text of a call file, instead of "call"
   */
  call_text?: string;
  /**
   * of a call that has it several times: which
   */
  run?: number;
  /**
   * that was in the circuit
   */
  refrigerant?: string;
  pump_speed?: Spoken;
  pump_ultimate?: Spoken;
  bore?: Spoken;
  length?: Spoken;
  /**
   * in or out: the valves' cores
   */
  cores?: string;
  /**
   * one or both sides of the capillary connected
   */
  sides?: string;
  volume?: Spoken;
  far_volume?: Spoken;
  capillary_bore?: Spoken;
  capillary_length?: Spoken;
  oil?: Spoken;
  water?: Spoken;
  /**
   * near or far: where the water is
   */
  water_side?: string;
  t?: Spoken;
  vacuum?: Spoken;
  /**
   * how many, with breaks of dry nitrogen, 2 to 6
   */
  vacuums?: number | string;
  break_at?: Spoken;
  break?: Spoken;
  readings?: TestReadings;
  altitude?: Spoken;
  barometer?: Spoken;
  units?: Units;
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
  /**
   * a memory as the schema "memory" describes it, from the use case "memory"
   */
  memory?: {};
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
export interface FlammableRequest {
  /**
   * a call; what the request itself doesn't say is taken from it
   */
  call?: {};
  /**
   * the text of a call file, instead
   */
  call_text?: string;
  /**
   * which time this was done, 1 unless told
   */
  run?: number;
  /**
   * one that burns, such as R290
   */
  refrigerant?: string;
  charge?: Spoken;
  area?: Spoken;
  height?: Spoken;
  volume?: Spoken;
  /**
   * of the lower flammability limit, 25 % unless told
   */
  share?: string;
  t?: Spoken;
  bore?: Spoken;
  length?: Spoken;
  /**
   * 2 m/s, 5 mph; 1 m/s unless told
   */
  wind?: string;
  /**
   * air changes an hour indoors, 0.5 unless told
   */
  changes?: string;
  pressure?: Spoken;
  /**
   * how the charge leaves, recovered unless told
   */
  leaves?: 'recovered' | 'released';
  altitude?: Spoken;
  barometer?: Spoken;
  units?: Units;
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
export interface MemoryRequest {
  /**
   * calls, or texts of call files
   *
   * @maxItems 200
   */
  calls?: ({} | string)[];
  /**
   * a memory as the schema "memory" describes it, from the use case "memory"
   */
  memory?: {};
  /**
   * tell of this one alone
   */
  unit?: string;
  correct?:
    | {
        unit: string;
        /**
         * of the unit
         */
        quantity:
          | 'evaporator_td'
          | 'condenser_split'
          | 'superheat'
          | 'subcooling'
          | 'compressor_current'
          | 'capacity';
        /**
         * such as 18 F
         */
        value: string;
      }
    | {
        unit: string;
        /**
         * of the unit
         */
        quantity:
          | 'evaporator_td'
          | 'condenser_split'
          | 'superheat'
          | 'subcooling'
          | 'compressor_current'
          | 'capacity';
        /**
         * such as 18 F
         */
        value: string;
      }[];
  forget?:
    | {
        /**
         * name and day, as the memory lists it
         */
        call?: string;
        /**
         * as the memory lists it
         */
        unit?: string;
        /**
         * as the memory lists it
         */
        model?: string;
        /**
         * of the unit
         */
        quantity?:
          | 'evaporator_td'
          | 'condenser_split'
          | 'superheat'
          | 'subcooling'
          | 'compressor_current'
          | 'capacity';
      }
    | {
        /**
         * name and day, as the memory lists it
         */
        call?: string;
        /**
         * as the memory lists it
         */
        unit?: string;
        /**
         * as the memory lists it
         */
        model?: string;
        /**
         * of the unit
         */
        quantity?:
          | 'evaporator_td'
          | 'condenser_split'
          | 'superheat'
          | 'subcooling'
          | 'compressor_current'
          | 'capacity';
      }[];
  ask_back?:
    | {
        /**
         * name and day, as the memory lists it
         */
        call?: string;
        /**
         * as the memory lists it
         */
        unit?: string;
        /**
         * as the memory lists it
         */
        model?: string;
        /**
         * of the unit
         */
        quantity?:
          | 'evaporator_td'
          | 'condenser_split'
          | 'superheat'
          | 'subcooling'
          | 'compressor_current'
          | 'capacity';
      }
    | {
        /**
         * name and day, as the memory lists it
         */
        call?: string;
        /**
         * as the memory lists it
         */
        unit?: string;
        /**
         * as the memory lists it
         */
        model?: string;
        /**
         * of the unit
         */
        quantity?:
          | 'evaporator_td'
          | 'condenser_split'
          | 'superheat'
          | 'subcooling'
          | 'compressor_current'
          | 'capacity';
      }[];
  units?: Units;
}
/**
 * The one form in which every procedure of the repair answers.
 */
export interface MemoryAnswer {
  about: About;
  procedure: string;
  refrigerant: string | null;
  safety_class: string | null;
  site_pressure: Quantity;
  verdict: Statement | null;
  cautions: Statement[];
  statements: Statement[];
  /**
   * questions back, such as about readings out of order
   */
  asks: Statement[];
  figures: Figure[];
  tables: {
    key: string;
    label: string;
    columns: {
      key: string;
      label: string;
    }[];
    rows: string[][];
  }[];
  curves: {
    key: string;
    label: string;
    x: {
      label: string;
      unit: string;
    };
    y: {
      label: string;
      unit: string;
    };
    lines: {
      key: string;
      label: string;
      kind: 'measured' | 'predicted' | 'low' | 'high' | 'limit';
      points: number[][];
    }[];
  }[];
  memory: {
    schema: 'memory';
    format: 1;
    /**
     * @maxItems 5000
     */
    calls: {
      /**
       * name and day
       */
      call: string;
      /**
       * of its content
       */
      print: string;
      entries: number;
      unit: string;
      model: string;
      at: string | null;
      /**
       * SI
       */
      plate: {
        cabinet: string;
        charge?: number;
        rated_current?: number;
        rated_voltage?: number;
        frequency?: number;
        displacement?: number;
        set_point?: number;
        condenser?: number;
      };
      refrigerant: string;
      cause: string;
      parts: string[];
      /**
       * a main part was replaced: another machine than before
       */
      renewed: boolean;
      sound: number;
      readings: number;
      /**
       * b = A u with unit noise, on latents of the machine
       *
       * @maxItems 40
       */
      rows: {
        value: number;
        slopes: {
          [k: string]: number;
        };
      }[];
    }[];
    corrections: {
      unit: string;
      quantity: string;
      value: number;
    }[];
    forgotten: {
      call: string;
      unit: string;
      model: string;
      quantity: string;
    }[];
  };
}
export interface OpeningRequest {
  /**
   * a call; what the request itself doesn't say is taken from it
   */
  call?: {};
  /**
   * the text of a call file, instead
   */
  call_text?: string;
  /**
   * which time this was done, 1 unless told
   */
  run?: number;
  /**
   * R290
   */
  refrigerant?: string;
  charge?: Spoken;
  /**
   * its kind, such as reach_in_cooler
   */
  cabinet?: string;
  set_point?: Spoken;
  rated_current?: Spoken;
  rated_voltage?: Spoken;
  /**
   * which are connected, both unless told
   */
  hoses?: 'low' | 'high' | 'both';
  low_length?: Spoken;
  low_bore?: Spoken;
  high_length?: Spoken;
  high_bore?: Spoken;
  t?: Spoken;
  hose_t?: Spoken;
  box?: Spoken;
  /**
   * fittings that shut themselves, no unless told
   */
  low_loss?: 'yes' | 'no';
  /**
   * the high hose opened to the suction before it comes off, no unless told
   */
  pulled_back?: 'yes' | 'no';
  suction_pressure?: Spoken;
  head_pressure?: Spoken;
  seed?: number;
  population?: number;
  altitude?: Spoken;
  barometer?: Spoken;
  units?: Units;
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
export interface PracticeCallRequest {
  /**
   * which machine; the same seed gives the same one
   */
  seed?: number;
  /**
   * first unless told
   */
  level?: 'first' | 'working_day' | 'hard';
  /**
   * its kind; drawn unless told
   */
  cabinet?: string;
  /**
   * a call of the full virtual cabinet, instead of seed, level and cabinet
   */
  recorded?: string;
  units?: Units;
}
export interface PracticeCallAnswer {
  about: About;
  level: 'first' | 'working_day' | 'hard';
  recorded: string | null;
  cautions: Statement[];
  customer: {
    place: string;
    said: string;
  };
  plate: {
    cabinet: PracticeWord;
    refrigerant: string;
    charge: Quantity;
    rated_current: Quantity;
    rated_voltage: Quantity;
    set_point: Quantity;
  };
  walking_in: Statement[];
  state: PracticeState;
  offers: PracticeOffer[];
  causes: PracticeWord[];
  recorded_calls: string[];
}
export interface PracticeWord {
  word: string;
  label: string;
}
export interface PracticeState {
  minutes: Quantity;
  opened: boolean;
  lost: Quantity;
  box: Quantity;
}
export interface PracticeOffer {
  action: string;
  kind: 'reading' | 'look' | 'wait';
  label: string;
  minutes: Quantity;
  grams_lost: number;
  opens_circuit: boolean;
  stops_machine: boolean;
  hazard: string;
  hazard_text: string;
  /**
   * what it showed when it was last done
   */
  shown: string | null;
}
export interface PracticeDebriefRequest {
  /**
   * which machine; the same seed gives the same one
   */
  seed?: number;
  /**
   * first unless told
   */
  level?: 'first' | 'working_day' | 'hard';
  /**
   * its kind; drawn unless told
   */
  cabinet?: string;
  /**
   * a call of the full virtual cabinet, instead of seed, level and cabinet
   */
  recorded?: string;
  units?: Units;
  /**
   * what was done, in its order
   *
   * @maxItems 60
   */
  actions?: string[];
  /**
   * a cause, or two joined by +
   */
  decision: string;
  /**
   * machines for each cause, 24 unless told
   */
  population?: number;
}
export interface PracticeDebriefAnswer {
  about: About;
  level: 'first' | 'working_day' | 'hard';
  recorded: string | null;
  cautions: Statement[];
  decision: {
    cause: string;
    label: string;
  };
  verdict: {
    grade: 'right' | 'nearly' | 'wrong';
    text: Statement;
    knowable: Statement;
  };
  truth: {
    cause: string;
    label: string;
    causes: {
      cause: string;
      label: string;
      severity: string;
      /**
       * 0 mild to 1 severe
       */
      share: number;
    }[];
    text: Statement;
  };
  yours: PracticePath;
  best: PracticePath;
  parting: {
    /**
     * counted from 0
     */
    step: number | null;
    text: Statement;
  };
  cost: {
    hours: number;
    hours_text: string;
    parts: string[];
    opens_circuit: boolean;
    text: Statement;
  } | null;
  sign: {
    action: string | null;
    text: Statement;
  } | null;
  remember: Statement[];
}
export interface PracticePath {
  steps: PracticeToldStep[];
  start: PracticeBelieved[];
  truth_at_start: number;
  found: PracticeBelieved[];
  enough: PracticeEnough | null;
  missed: Statement | null;
  state: PracticeState;
  text: Statement;
}
export interface PracticeToldStep {
  action: string;
  kind: 'reading' | 'look' | 'wait';
  label: string;
  shown: string;
  remarks: Statement[];
  minutes: Quantity;
  minutes_used: Quantity;
  opens_circuit: boolean;
  box: Quantity;
  /**
   * by which it moved what is believed of the cause
   */
  bits: number;
  expected_bits: number;
  told: Statement;
  reasons: Statement[];
  better: Statement | null;
  leading: PracticeBelieved[];
  /**
   * probability of what it really was, after the step
   */
  truth: number;
}
export interface PracticeBelieved {
  cause: string;
  label: string;
  probability: number;
  text: string;
}
export interface PracticeEnough {
  /**
   * counted from 0
   */
  step: number;
  text: Statement;
}
export interface PracticeStepRequest {
  /**
   * which machine; the same seed gives the same one
   */
  seed?: number;
  /**
   * first unless told
   */
  level?: 'first' | 'working_day' | 'hard';
  /**
   * its kind; drawn unless told
   */
  cabinet?: string;
  /**
   * a call of the full virtual cabinet, instead of seed, level and cabinet
   */
  recorded?: string;
  units?: Units;
  /**
   * what was done, in its order
   *
   * @maxItems 60
   */
  actions?: string[];
}
export interface PracticeStepAnswer {
  about: About;
  level: 'first' | 'working_day' | 'hard';
  recorded: string | null;
  cautions: Statement[];
  steps: PracticeStep[];
  state: PracticeState;
  offers: PracticeOffer[];
}
export interface PracticeStep {
  action: string;
  kind: 'reading' | 'look' | 'wait';
  label: string;
  shown: string;
  remarks: Statement[];
  minutes: Quantity;
  minutes_used: Quantity;
  opens_circuit: boolean;
  box: Quantity;
}
export interface ProofRequest {
  /**
   * a call as the schema "call" describes it
   */
  call?: {};
  /**
   * the text of a call file, instead of "call"
   */
  call_text?: string;
  /**
   * of the call's proofs, 1 by default
   */
  run?: number;
  /**
   * kind of cabinet; needed without a call
   */
  cabinet?: string;
  /**
   * such as R290
   */
  refrigerant?: string;
  /**
   * of the plate, such as 3.9 oz
   */
  charge?: string;
  /**
   * such as 2.5 A
   */
  rated_current?: string;
  /**
   * such as 115 V
   */
  rated_voltage?: string;
  /**
   * such as 37 F
   */
  set_point?: string;
  /**
   * kind of condenser
   */
  condenser?: string;
  /**
   * of the plate
   */
  maker?: string;
  /**
   * of the plate
   */
  model?: string;
  /**
   * of the plate
   */
  serial?: string;
  /**
   * ambient, such as 81 F
   */
  t?: string;
  /**
   * at the start, without readings, such as 70 F
   */
  box?: string;
  /**
   * such as 5000 ft
   */
  altitude?: string;
  /**
   * such as 24.9 inHg
   */
  barometer?: string;
  /**
   * mass of what stands in the box, such as 20 lb
   */
  product?: string;
  /**
   * @maxItems 5000
   */
  readings?: {
    /**
     * since the start, such as 12 min
     */
    after?: string;
    /**
     * RFC 3339, instead
     */
    at?: string;
    /**
     * of the box, such as 52 F
     */
    box?: string;
    /**
     * the same, where "box" isn't there
     */
    temperature?: string;
    /**
     * of the compressor, such as 2.1 A
     */
    current?: string;
    /**
     * suction, such as 31 psig
     */
    pressure?: string;
    mass?: string;
    flow?: string;
  }[];
  /**
   * a memory as the schema "memory" describes it, from the use case "memory"
   */
  memory?: {};
  seed?: number;
  population?: number;
  units?: Units;
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
export interface RecordRequest {
  /**
   * a call as the schema "call" describes it
   */
  call?: {};
  /**
   * the text of a call file, instead of "call"
   */
  call_text?: string;
  for: 'customer' | 'shop';
  /**
   * letter with US units, else a4, by default
   */
  paper?: 'a4' | 'letter';
  /**
   * the shop's own words
   */
  shop?: {
    name?: string;
    address?: string;
    phone?: string;
    licence?: string;
  };
  /**
   * an answer of "diagnose" for this call; computed without it
   */
  diagnosis?: {};
  /**
   * answers of procedures; without them each procedure of the call is computed
   *
   * @maxItems 200
   */
  proofs?: {}[];
  population?: number;
  seed?: number;
  units?: Units;
  /**
   * a memory as the schema "memory" describes it, from the use case "memory"
   */
  memory?: {};
}
export interface RecordAnswer {
  about: About;
  for: 'customer' | 'shop';
  language: string;
  paper: 'a4' | 'letter';
  title: string;
  /**
   * the page as plain blocks in their order
   */
  model: {
    title: string;
    /**
     * at the foot of every page, with {page} and {pages} to fill
     */
    foot: string;
    blocks: (
      | {
          kind: 'letterhead';
          name: string;
          lines: string[];
        }
      | {
          kind: 'heading';
          level: number;
          text: string;
        }
      | {
          kind: 'paragraph';
          text: string;
        }
      | {
          kind: 'small';
          text: string;
        }
      | {
          kind: 'facts';
          facts: {
            label: string;
            value: string;
          }[];
        }
      | {
          kind: 'list';
          items: string[];
        }
      | {
          kind: 'cautions';
          items: string[];
        }
      | {
          kind: 'verdicts';
          verdicts: {
            label: string;
            text: string;
            lines: string[];
          }[];
        }
      | {
          kind: 'table';
          caption: string;
          columns: {
            label: string;
            align: 'left' | 'right';
            /**
             * of the width, beside the others
             */
            share: number;
          }[];
          rows: string[][];
          /**
           * so many last rows sum those above
           */
          sums: number;
          /**
           * few and short columns: not over the page's whole width
           */
          narrow: boolean;
        }
      | {
          kind: 'bars';
          caption: string;
          bars: {
            label: string;
            share: number;
            text: string;
            words: string;
            found: boolean;
          }[];
        }
      | {
          kind: 'figure';
          svg: string;
          caption: string;
          width: number;
          height: number;
        }
      | {
          kind: 'signatures';
          signatures: {
            role: 'technician' | 'customer';
            label: string;
            name: string;
            at: string;
            path: string;
            width: number;
            height: number;
          }[];
        }
    )[];
  };
  /**
   * the page as one document that needs nothing else
   */
  html: string;
  /**
   * the facts as a table (RFC 4180): section, item, value, unit, si, time, source
   */
  csv: string;
  /**
   * the facts, by the schema "record.data"
   */
  data: {};
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
/**
 * A vacuum's rise after the pump is shut off.
 */
export interface RiseRequest {
  /**
   * a call as the schema "call" describes it: fills in what isn't given
   */
  call?: {};
  /**
   * the text of a call file, instead of "call"
   */
  call_text?: string;
  /**
   * of a call that has it several times: which
   */
  run?: number;
  /**
   * of the circuit, for what a leak loses
   */
  refrigerant?: string;
  readings?: TestReadings;
  t?: Spoken;
  wet_t?: Spoken;
  volume?: Spoken;
  resolution?: Spoken;
  service_pressure?: Spoken;
  /**
   * of the drawn futures, 0 to 9007199254740991
   */
  seed?: number | string;
  altitude?: Spoken;
  barometer?: Spoken;
  units?: Units;
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
export interface TightnessRequest {
  /**
   * R290; the cabinet's usual one unless told
   */
  refrigerant?: string;
  /**
   * kind of cabinet, such as reach_in_cooler: the machines that fit its plate stand in for what nobody measured
   */
  cabinet?: string;
  charge?: Spoken;
  rated_current?: Spoken;
  rated_voltage?: Spoken;
  frequency?: Spoken;
  set_point?: Spoken;
  t?: Spoken;
  volume?: Spoken;
  volume_low?: Spoken;
  volume_high?: Spoken;
  volume_spread?: Spoken;
  low_plate?: Spoken;
  high_plate?: Spoken;
  /**
   * yes unless told
   */
  low_connected?: 'yes' | 'no';
  /**
   * yes unless told
   */
  high_connected?: 'yes' | 'no';
  wanted_pressure?: Spoken;
  gauge_resolution?: Spoken;
  temperature_sigma?: Spoken;
  to?: Spoken;
  coldest_below?: Spoken;
  wanted_leak?: Spoken;
  service_pressure?: Spoken;
  tracer?: Spoken;
  tube_bore?: Spoken;
  tube_length?: Spoken;
  tube_spread?: Spoken;
  /**
   * how both sides are joined: by the capillary alone, or open at the manifold
   */
  joined?: 'capillary' | 'open';
  /**
   * the side that nitrogen was let in on
   */
  fed?: 'low' | 'high' | 'both';
  /**
   * low unless told
   */
  gauge_side?: 'low' | 'high';
  readings?: TestReadings;
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
   * which run of this procedure in the call, 1 unless told
   */
  run?: number;
}
export interface TraceRequest {
  /**
   * @minItems 1
   * @maxItems 20
   */
  files: {
    name?: string;
    text: string;
    layout?: TraceLayout;
  }[];
  units?: Units;
  altitude?: Spoken;
  barometer?: Spoken;
  /**
   * stretches that each series is thinned to, 600 unless told
   */
  points?: number;
}
/**
 * how a logged file is to be read; label, confidence and why are for people
 */
export interface TraceLayout {
  encoding?: 'utf8' | 'utf16_le' | 'utf16_be' | 'latin1';
  separator: 'comma' | 'semicolon' | 'tab' | 'bar' | 'blanks';
  decimal: 'point' | 'comma';
  /**
   * lines before the first row of data
   */
  header_rows?: number;
  time: {
    form: 'year_first' | 'day_first' | 'month_first' | 'epoch' | 'serial_days' | 'elapsed' | 'time_of_day';
    /**
     * of an epoch or elapsed time
     */
    seconds_per_unit?: number;
    /**
     * day and month may yet turn out the other way about by later rows; not where a person has said it
     */
    open?: boolean;
  };
  /**
   * @minItems 1
   * @maxItems 500
   */
  columns: {
    what: TraceWhat;
    label?: string;
    header?: string;
    /**
     * such as W, psig or °F; empty where none is needed
     */
    unit?: string;
    confidence?: number;
    why?: string;
  }[];
  sensors?: {
    name: string;
    what: TraceWhat;
    label?: string;
    unit?: string;
  }[];
}
export interface TraceAnswer {
  about: About;
  files: {
    name: string;
    layout: TraceLayout;
    guessed: boolean;
    /**
     * whose times all else counts from
     */
    main: boolean;
    dated: boolean;
    zoned: boolean;
    /**
     * s since 1970 by the file's clock, where it has dates
     */
    start: number | null;
    from_text: string;
    to_text: string;
    seconds: number;
    interval: number;
    rows: number;
    used: number;
    clock: {
      offset: Quantity;
      low: Quantity;
      high: Quantity;
      drift_per_day: Quantity;
      drift_low: Quantity;
      drift_high: Quantity;
      drift_told: boolean;
      probability: number;
      log_likelihood_gain: number;
      used: boolean;
    } | null;
  }[];
  questions: TraceQuestion[];
  set_aside: {
    file: number;
    reason:
      | 'unreadable_row'
      | 'unreadable_time'
      | 'unreadable_value'
      | 'missing_value'
      | 'sentinel_value'
      | 'impossible_value'
      | 'repeated_header'
      | 'comment_row'
      | 'duplicate_same'
      | 'duplicate_other'
      | 'coarse_stamps'
      | 'shuffled'
      | 'newest_first'
      | 'clock_step'
      | 'stuck_sensor'
      | 'unit_changed'
      | 'unit_in_cell'
      | 'gap'
      | 'unknown_sensor'
      | 'counter_reset'
      | 'coarse_counter'
      | 'turned_sign'
      | 'unset_clock'
      | 'empty_rest';
    count: number;
    column: number | null;
    lines: number[];
    from: number;
    to: number;
    text: string;
  }[];
  method: {
    kind: 'levels' | 'swing';
    column: string;
    what: TraceWhat;
    levels: {
      role: 'rest' | 'run' | 'heater' | 'other';
      value: Quantity;
      seconds: number;
      visits: number;
    }[];
    noise: number;
    runs: number;
    stretches: number;
    log_likelihood: number;
    log_likelihood_one_state: number;
    told_pumping: boolean;
    told_overload: boolean;
  } | null;
  phases: {
    state: 'off' | 'start' | 'running' | 'not_pumping' | 'overload' | 'defrost';
    label: string;
    /**
     * s since the main file's start
     */
    from: number;
    to: number;
    /**
     * it began between this and from_high, 90 %
     */
    from_low: number;
    from_high: number;
    from_text: string;
    lasts: string;
    probability: number;
    level: Quantity;
    /**
     * began and ended within what was logged
     */
    whole: boolean;
  }[];
  phase_count: number;
  events: {
    event:
      | 'door'
      | 'defrost'
      | 'pull_down'
      | 'overload_cycle'
      | 'failed_start'
      | 'not_pumping'
      | 'hunting'
      | 'long_run'
      | 'no_power';
    label: string;
    from: number;
    to: number;
    from_text: string;
    probability: number;
    text: string;
  }[];
  event_count: number;
  figures: {
    key: string;
    label: string;
    interval: Interval;
    /**
     * the interval is that of single cycles, else of the estimate
     */
    spread: boolean;
    count: number;
    column: string;
    text: string;
  }[];
  statements: Statement[];
  evidence: {
    /**
     * entries that a call file takes
     */
    entries: {}[];
    readings: {
      reading: string;
      label: string;
      text: string;
      minutes_running: number;
    }[];
    observed: {
      subject: string;
      value: string;
      label: string;
      confidence: number;
    }[];
    from: number;
    to: number;
    from_text: string;
    to_text: string;
  };
  series: {
    what: TraceWhat;
    label: string;
    column: string;
    unit: string;
    /**
     * thinned for a picture: s since the start, least and most
     */
    points: number[][];
  }[];
  /**
   * the signal and the phases as SVG; empty when no column tells running
   */
  picture: string;
}
/**
 * the first option is what was taken
 */
export interface TraceQuestion {
  key: string;
  text: string;
  column: number | null;
  sensor: string | null;
  options: {
    value: string;
    label: string;
  }[];
  file?: number;
}
export interface TraceLayoutRequest {
  /**
   * a file's first lines, at most 256 kB are looked at
   */
  text: string;
  name?: string;
  /**
   * what a person says parts the columns; else it is guessed
   */
  separator?: 'comma' | 'semicolon' | 'tab' | 'bar' | 'blanks';
  /**
   * what a person says marks the decimals; else it is guessed
   */
  decimal?: 'point' | 'comma';
}
export interface TraceLayoutAnswer {
  about: About;
  layout: TraceLayout;
  questions: TraceQuestion[];
  /**
   * whether the layout can be followed as it is
   */
  complete: boolean;
  preview: string[][];
  /**
   * what a column may hold, in which units, and how time may be written
   */
  choices: {
    columns: {
      value: TraceWhat;
      label: string;
      units: string[];
    }[];
    time_forms: {
      value: string;
      label: string;
    }[];
  };
}
export interface TracerRequest {
  /**
   * a call; what the request itself doesn't say is taken from it
   */
  call?: {};
  /**
   * the text of a call file, instead
   */
  call_text?: string;
  /**
   * which time this was done, 1 unless told
   */
  run?: number;
  /**
   * R290
   */
  refrigerant?: string;
  volume?: Spoken;
  t?: Spoken;
  coldest?: Spoken;
  pressure?: Spoken;
  /**
   * of the largest share that burns at no dilution, 50 % unless told
   */
  part?: string;
  /**
   * of refrigerant in the nitrogen, instead
   */
  share?: string;
  detector?: Spoken;
  service_pressure?: Spoken;
  response?: Spoken;
  tip?: Spoken;
  distance?: Spoken;
  /**
   * that there is a leak, before the search; from the call's diagnosis or 50 %
   */
  prior?: string;
  /**
   * share of the joints searched well, 90 % unless told
   */
  covered?: string;
  above?: Spoken;
  /**
   * whether joints are new, yes unless told
   */
  worked_on?: 'yes' | 'no';
  seed?: number;
  population?: number;
  altitude?: Spoken;
  barometer?: Spoken;
  units?: Units;
}
export interface TubeRequest {
  /**
   * R290; the cabinet's usual one unless told
   */
  refrigerant?: string;
  /**
   * kind of cabinet, such as reach_in_cooler: the machines that fit its plate stand in for what nobody measured
   */
  cabinet?: string;
  charge?: Spoken;
  rated_current?: Spoken;
  rated_voltage?: Spoken;
  frequency?: Spoken;
  set_point?: Spoken;
  bore?: Spoken;
  length?: Spoken;
  new_bore?: Spoken;
  bore_tolerance?: Spoken;
  capacity?: Spoken;
  condensing?: Spoken;
  evaporating?: Spoken;
  subcooling?: Spoken;
  t?: Spoken;
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
   * which run of this procedure in the call, 1 unless told
   */
  run?: number;
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
/**
 * labour_rate, hours, parts_cost, new_price and energy_price are needed, typed here or in the call's entries for this procedure
 */
export interface WorthRequest {
  /**
   * a call; what the request itself doesn't say is taken from it
   */
  call?: {};
  /**
   * the text of a call file, instead
   */
  call_text?: string;
  /**
   * which time this was done, 1 unless told
   */
  run?: number;
  /**
   * an hour: 95 EUR
   */
  labour_rate?: string;
  hours?: Spoken;
  /**
   * 480 EUR
   */
  parts_cost?: string;
  /**
   * in place: 2400 EUR
   */
  new_price?: string;
  /**
   * a kWh: 0.28 EUR
   */
  energy_price?: string;
  /**
   * a year: 1600 kWh; from the call's machines unless told
   */
  energy_repaired?: string;
  /**
   * a year: 1100 kWh; three quarters of this machine sound unless told
   */
  energy_new?: string;
  /**
   * looked at, 6 years unless told
   */
  remaining_years?: string;
  /**
   * a year, 4 % unless told
   */
  discount?: string;
  /**
   * of the machine, 6 years unless told
   */
  age?: string;
  /**
   * of prices and energies typed, one standard deviation, 10 % unless told
   */
  spread?: string;
  /**
   * years that half of such machines stand, about 11.5 unless told
   */
  life?: string;
  t?: Spoken;
  seed?: number;
  population?: number;
  units?: Units;
}

export type UseCaseName = keyof UseCases;
