/** What acts on a skid from outside during one step. */
export interface Surroundings {
  /** The schedule, a person or a controller wants it to run. */
  readonly wanted: boolean;
  readonly airC: number;
  readonly waterC: number;
  /** Supply voltage as a share of the nameplate's. */
  readonly voltageRatio: number;
  /** The pump's head as a share of its curve: bubbles, level and wear make it wander a little. */
  readonly headRatio: number;
  /** How far the pond stands below its usual level, m. Default 0. */
  readonly drawDownM?: number;
  /** Somebody is cleaning it: scale goes from the gas line. */
  readonly cleaned?: boolean;
}

/** A skid's state. It is changed in place by `stepPlant`. */
export interface Plant {
  timeMs: number;
  running: boolean;
  sinceStartS: number;
  /** How long this start takes to draw the air out of the suction line. */
  primingS: number;
  /** How far the water column has been drawn up, 0..1: the static part of the vacuum. */
  column: number;
  /** How well the casing is filled with water, 0 air..1 primed. */
  prime: number;
  /** How badly the water boils in the impeller's eye, 0..1. */
  cavitating: number;
  flowLpm: number;
  suctionKpa: number;
  dischargeKpa: number;
  currentA: number;
  gasKpa: number;
  gasFlowLpm: number;
  /** Water in the gas line after a stop, 0..1: it must be driven out again. */
  gasLineWet: number;
  /** Growth of the gas line's resistance since it was clean. */
  gasFouling: number;
  ozoneOn: boolean;
  ozoneWaitS: number;
  /** Ozone in the enclosure's air. */
  ozonePpm: number;
  casingC: number;
  shellC: number;
  windingC: number;
  /** The motor's own thermal protector has opened; it closes by itself. */
  protectorOpen: boolean;
  /** For how long the protector has stood as it stands, s. */
  protectorS: number;
}

/** A skid that has stood still for long at `airC`. */
export function stoppedPlant(timeMs: number, airC: number): Plant {
  return {
    timeMs,
    running: false,
    sinceStartS: 0,
    primingS: 0,
    column: 0,
    prime: 0,
    cavitating: 0,
    flowLpm: 0,
    suctionKpa: 0,
    dischargeKpa: 0,
    currentA: 0,
    gasKpa: 0,
    gasFlowLpm: 0,
    gasLineWet: 1,
    gasFouling: 0,
    ozoneOn: false,
    ozoneWaitS: 0,
    ozonePpm: 0,
    casingC: airC,
    shellC: airC,
    windingC: airC,
    protectorOpen: false,
    protectorS: 0,
  };
}
