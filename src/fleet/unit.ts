import type { AlarmName } from "../terms/alarms.ts";
import type { Channel } from "../terms/channels.ts";
import type { Fittings, PipeMaterial, WireSize } from "./installation-words.ts";
import type { Notify } from "./notify.ts";
import type { Visit } from "./visit.ts";

/** Daily windows in minutes after local midnight; `to` below `from` passes midnight. */
export type RunSchedule =
  | { readonly kind: "always" }
  | { readonly kind: "never" }
  | { readonly kind: "windows"; readonly windows: readonly { readonly from: number; readonly to: number }[] };

/** How one column of a log becomes a channel. */
export interface ColumnSource {
  /** Header text, matched in any case. */
  readonly column: string;
  /** Unit of the numbers in the log, as written in the fleet file; undefined for the channel's own unit. */
  readonly unit?: string;
  /** A vacuum written as a positive number: counted negative. */
  readonly vacuum?: boolean;
  /** A signal's range and the values it stands for, in the channel's stored unit: a 4–20 mA loop. */
  readonly range?: readonly [number, number];
  readonly scale?: readonly [number, number];
}

/** Mapped columns; a channel may take several. Undefined: recognised by the default headers. */
export interface ColumnMap {
  readonly time?: string;
  /** Header of the dates, where `time` holds times of the day. */
  readonly date?: string;
  /** Of dates with slashes. */
  readonly timeFormat?: "DD/MM/YYYY" | "MM/DD/YYYY";
  readonly channels: Readonly<Partial<Record<Channel, readonly ColumnSource[]>>>;
}

/** One unit as the fleet file tells it: numbers in stored units, times in ms. */
export interface Unit {
  readonly id: string;
  readonly site?: string;
  readonly serial?: string;
  readonly log?: string;
  readonly sampleIntervalMs?: number;
  readonly arrivesEveryMs?: number;
  readonly runs?: RunSchedule;
  /** First and last day of the season as month × 100 + day; undefined: all year. */
  readonly season?: { readonly from: number; readonly to: number };
  readonly consequence?: "fish" | "irrigation" | "appearance";
  /** Undefined: fitted if the log has the column. */
  readonly ozone?: "fitted" | "bypassed" | "none";
  /** Channels that it is not meant to have. */
  readonly notMeasured?: readonly Channel[];
  readonly loggerPower: "separate" | "same outlet";
  readonly motor: {
    readonly fullLoadCurrentA?: number;
    readonly serviceFactor?: number;
    readonly insulationClass?: "A" | "B" | "F" | "H";
    readonly voltageV?: number;
    readonly temperatureAt: "shell" | "winding";
    readonly startsPerHour?: number;
  };
  readonly pump: {
    readonly npshRequiredM?: number;
    readonly shutoffHeadM?: number;
    /** A point of the maker's curve, at which the pump is meant to work. */
    readonly ratedFlowLpm?: number;
    readonly ratedHeadM?: number;
    /** Free air that it takes in while it primes, without lift. */
    readonly airHandlingLpm?: number;
    /** Load of the motor at the rated point, of its rated output. */
    readonly motorLoadPercent?: number;
    readonly type: "radial" | "regenerative";
  };
  readonly piping: {
    readonly suctionLiftM?: number;
    readonly suctionLengthM?: number;
    readonly dischargeLengthM?: number;
    readonly insideDiameterM?: number;
    readonly checkValve?: boolean;
    readonly material?: PipeMaterial;
    readonly suctionFittings?: Fittings;
    readonly dischargeFittings?: Fittings;
  };
  /** What the fine-bubble generator asks for: a pressure at a flow. */
  readonly generator: { readonly flowLpm?: number; readonly pressureKpa?: number };
  readonly gas: {
    readonly feed: "constant flow" | "regulated" | "drawn in";
    readonly injected: "discharge" | "suction";
  };
  readonly supply: {
    readonly circuitA?: number;
    /** One way. */
    readonly runLengthM?: number;
    readonly wire?: WireSize;
    /** What the motor's overload device is set to, A; or a protector built into the motor. */
    readonly overload?: number | "built in";
    readonly ozoneLoadA?: number;
    readonly gasLoadA?: number;
    readonly heaterLoadA?: number;
    readonly loggerLoadA?: number;
    readonly otherLoadA?: number;
  };
  /** Of the year; falls and rises from the level from which the suction lift was measured. */
  readonly water: {
    readonly coldestC?: number;
    readonly warmestC?: number;
    readonly fallsM?: number;
    readonly risesM?: number;
  };
  readonly elevationM?: number;
  readonly dischargeDepthM?: number;
  readonly columns: ColumnMap;
  /** When it ran clean; undefined: the first steady running seen. */
  readonly baseline?: { readonly fromMs: number; readonly forMs: number };
  /** What its gauges showed when it was handed over; `on` as `2026-05-01`, `by` whoever read them. */
  readonly commissioning?: {
    readonly on?: string;
    readonly by?: string;
    readonly values: Readonly<Partial<Record<Channel, number>>>;
  };
  readonly service: Upkeep;
  /** Rule settings that differ from a rule's defaults, checked by the rule's own schema. */
  readonly limits: Readonly<Partial<Record<AlarmName, Readonly<Record<string, unknown>>>>>;
}

/** What the fleet file says of a unit's upkeep. */
export interface Upkeep {
  readonly inspectionEveryMs: number;
  readonly cleaningEveryMs: number;
  /** As much running after which a work is due as well, ms. */
  readonly inspectionRunningMs?: number;
  readonly cleaningRunningMs?: number;
  readonly cleaner?: Cleaner;
  /** What is to be taken along to it. */
  readonly parts?: readonly string[];
}

/** The cleaner of a generator as its maker gives it. */
export interface Cleaner {
  readonly name?: string;
  /** Prepared cleaner into the generator, mL. */
  readonly doseMl?: number;
  readonly strength?: string;
  readonly soakMs?: number;
  readonly rinses?: number;
}

export interface Site {
  readonly name: string;
  readonly position?: readonly [number, number];
  readonly customer?: string;
  readonly access?: string;
  readonly workingHours?: string;
  /** What is on record of the permission to feed ozone there, as written: number, authority, validity. */
  readonly ozonePermission?: Readonly<Record<string, string>>;
}

export interface Fleet {
  readonly name: string;
  /** IANA zone of log times without an offset. */
  readonly timezone: string;
  readonly display: "si" | "us";
  /** Absolute path of the log folder. */
  readonly logs: string;
  /** How changed logs are noticed; `watching` becomes polling where the system cannot watch. */
  readonly follow: "watching" | "polling";
  /** Absolute path of the state folder, where the fleet file names one. */
  readonly state?: string;
  /** The group whose members share the state folder; undefined: it is the user's own. */
  readonly stateGroup?: string;
  readonly orderWithinMs: number;
  readonly sites: readonly Site[];
  readonly units: readonly Unit[];
  readonly services: readonly ServiceRecord[];
  /** How people are told of alarms, where the fleet file says so. */
  readonly notify?: Notify;
}

/**
 * A service as recorded: a work begun, ended, or done at one moment; or what a person decides of the unit's baseline.
 * What began with an `untilMs` and was not ended by then lapses: it is over, and nobody said that it was done. What was
 * begun by mistake is taken back: nothing was done.
 */
export interface ServiceRecord {
  readonly unit: string;
  readonly work:
    | "inspection"
    | "cleaning"
    | "repair"
    | "re-piping"
    | "lay-up"
    | "start-up"
    | "swap"
    | "planned stop"
    | "baseline";
  /** `confirm` and `relearn` are those of a baseline, which has no others. */
  readonly step: "begin" | "end" | "done" | "lapse" | "taken-back" | "confirm" | "relearn";
  readonly atMs: number;
  /** When a begun work ends by itself. */
  readonly untilMs?: number;
  readonly by?: string;
  readonly note?: string;
  readonly visit?: Visit;
}
