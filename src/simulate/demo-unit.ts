import type { Unit } from "../fleet/unit.ts";
import type { Voltage } from "../physics/full-load-current.ts";
import type { demoFormats } from "./demo-formats.ts";
import type { Fault } from "./fault.ts";
import type { Blemish } from "./log-keeping.ts";
import type { Horsepower } from "./motor.ts";
import type { Stop } from "./schedule.ts";

/** One unit of the demo fleet: what the fleet file says of it, what happened to it, how it is logged. */
export interface DemoUnit {
  readonly id: string;
  readonly site: string;
  /** A technician's remark, written above the unit in the fleet file. */
  readonly remark?: string;
  readonly horsepower: Horsepower;
  readonly voltageV: Voltage;
  readonly unloadedShare: number;
  readonly liftFt: number;
  readonly suctionFt: number;
  readonly checkValve: boolean;
  readonly injectorKpa: number;
  /** `always`, or daily windows as `HH:MM-HH:MM`. */
  readonly runs: "always" | readonly string[];
  readonly season?: string;
  readonly ozone: NonNullable<Unit["ozone"]>;
  readonly consequence: NonNullable<Unit["consequence"]>;
  readonly temperatureAt?: "winding";
  readonly sharedOutlet?: boolean;
  readonly format: keyof typeof demoFormats;
  readonly kept: Keeping;
  readonly faults?: readonly Fault[];
  readonly stops?: readonly Stop[];
  readonly blemishes?: readonly Blemish[];
}

/** How a unit's log reaches the folder: a growing file, a packed one, whole deliveries, or not at all. */
type Keeping = "plain" | "packed" | "delivered" | "missing";
