import type { ServiceRecord, Unit } from "../fleet/unit.ts";
import type { Channel } from "../terms/channels.ts";
import type { Fault } from "./fault.ts";
import type { Blemish } from "./log-keeping.ts";
import type { Sag } from "./recorder.ts";
import type { Stop } from "./schedule.ts";
import type { SkidPlan } from "./skid.ts";

/** A unit of an invented fleet: what its fleet file says, what it is, and what happens to it. */
export interface InventedUnit {
  readonly id: string;
  readonly site: string;
  readonly plan: SkidPlan;
  /** `always`, or daily windows as `HH:MM-HH:MM`. */
  readonly runs: "always" | readonly string[];
  readonly ozone: NonNullable<Unit["ozone"]>;
  readonly consequence: NonNullable<Unit["consequence"]>;
  readonly temperatureAt: "shell" | "winding";
  readonly sharedOutlet: boolean;
  /** Channels that its logger writes, in the order of its columns. */
  readonly channels: readonly Channel[];
  readonly seed: number;
  readonly faults: readonly Fault[];
  readonly stops: readonly Stop[];
  readonly services: readonly Pick<ServiceRecord, "work" | "step" | "atMs">[];
  readonly blemishes: readonly Blemish[];
  readonly sags: readonly Sag[];
  /** How fast the pond falls, m a day. */
  readonly drawDownMPerDay: number;
  readonly driftKpaPerDay: Readonly<Partial<Record<Channel, number>>>;
}
