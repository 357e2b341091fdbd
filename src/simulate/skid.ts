import { atmosphericPressureKpa } from "../physics/atmosphere.ts";
import { hazenWilliamsHeadM } from "../physics/friction.ts";
import type { Voltage } from "../physics/full-load-current.ts";
import { capacitorStartMotor, type Horsepower, type Motor } from "./motor.ts";

/** What a skid is made of; heads in m, resistances in m per (L/min)². */
export interface Skid {
  readonly motor: Motor;
  readonly pump: {
    readonly shutoffHeadM: number;
    readonly slope: number;
    readonly dutyFlowLpm: number;
    readonly dutyPowerW: number;
    readonly shutoffPowerW: number;
    /** Shaft power with the casing full of air and a little water. */
    readonly dryPowerW: number;
    /** At the flow of its duty. */
    readonly npshRequiredM: number;
  };
  readonly suction: {
    readonly liftM: number;
    readonly resistance: number;
    readonly checkValve: boolean;
    readonly boreM: number;
  };
  /** The fine-bubble generator and its pipe. */
  readonly discharge: { readonly resistance: number };
  readonly thermal: Thermal;
  readonly gas: {
    readonly feed: "constant flow" | "regulated";
    readonly injectorKpa: number;
    /** Growth of the injector's loss for each K of the gas line above 15 °C, as a share. */
    readonly lossPerK: number;
    readonly foulingPerDay: number;
    readonly flowLpm: number;
  };
  /** Of the air at its place. */
  readonly atmosphericKpa: number;
  readonly ozone: { readonly fitted: boolean; readonly lagS: number; readonly follows: "water" | "motor" };
}

interface Thermal {
  readonly toAirWPerK: number;
  readonly toCasingWPerK: number;
  readonly capacityJPerK: number;
  readonly casingToAirWPerK: number;
  readonly casingCapacityJPerK: number;
  /** How far the winding stands above the shell at full load. */
  readonly windingRiseK: number;
}

/** What an installer chooses; everything else of a skid follows from it. */
export interface SkidPlan {
  readonly horsepower: Horsepower;
  readonly voltageV: Voltage;
  readonly unloadedShare: number;
  readonly liftM: number;
  readonly suctionLengthM: number;
  readonly boreM: number;
  readonly checkValve: boolean;
  readonly injectorKpa: number;
  /** Default 0: the line's gas keeps one temperature. */
  readonly gasLossPerK?: number;
  readonly ozone: Skid["ozone"];
  /** Default: constant flow. */
  readonly feed?: Skid["gas"]["feed"];
  /** Above the sea, m. Default 0. */
  readonly elevationM?: number;
  /** Shaft power at duty as a share of the motor's; default 0.84. */
  readonly dutyLoad?: number;
  /** The pump's head as a share of its type's: new ones differ, old ones wear. Default 1. */
  readonly headShare?: number;
  /** The motor's temperature rise as a share of its type's: shade, cowl, air around it. Default 1. */
  readonly riseShare?: number;
}

/** Shutoff head, and the flow and head at which the skid works: common practice for these sizes. */
const pumps = {
  0.5: { shutoffHeadM: 15, flowLpm: 75, headM: 11 },
  0.75: { shutoffHeadM: 17, flowLpm: 100, headM: 12.5 },
  1: { shutoffHeadM: 20, flowLpm: 120, headM: 14.5 },
} as const;

/** The maker's shutoff head of a size's pump, m. */
export function shutoffHeadM(horsepower: Horsepower): number {
  return pumps[horsepower].shutoffHeadM;
}

/** Flow in L/min and head in m of a size's pump by its maker's curve, where a skid works. */
export function ratedDuty(horsepower: Horsepower): { readonly flowLpm: number; readonly headM: number } {
  return pumps[horsepower];
}

/** Load of the motor at duty, of its rated output. */
export const usualLoad = 0.84;
const shutoffShare = 0.55;
const dryShare = 0.2;
/** At duty; common practice for these sizes. */
export const npshRequiredM = 2.5;
/** Foot valve, strainer and elbows as a length of straight pipe (common practice). */
const suctionFittingsM = 7;
const fullLoadRiseK = 38;
const timeConstantS = 27 * 60;

/**
 * A skid that reaches its duty as planned: the pump lifts from a pond and gives back to it, so the net
 * static head is zero and the generator is sized to take what the pump has left.
 */
export function buildSkid(plan: SkidPlan): Skid {
  const motor = capacitorStartMotor(plan.horsepower, plan.voltageV, plan.unloadedShare);
  const { flowLpm } = pumps[plan.horsepower];
  const closedM = shutoffHeadM(plan.horsepower) * (plan.headShare ?? 1);
  const headM = pumps[plan.horsepower].headM * (plan.headShare ?? 1);
  const square = flowLpm * flowLpm;
  const suctionM = hazenWilliamsHeadM(flowLpm, plan.suctionLengthM + suctionFittingsM, plan.boreM);
  const dutyPowerW = (plan.dutyLoad ?? usualLoad) * motor.ratedPowerW;
  return {
    motor,
    pump: {
      shutoffHeadM: closedM,
      slope: (closedM - headM) / square,
      dutyFlowLpm: flowLpm,
      dutyPowerW,
      shutoffPowerW: shutoffShare * dutyPowerW,
      dryPowerW: dryShare * motor.ratedPowerW,
      npshRequiredM,
    },
    suction: {
      liftM: plan.liftM,
      resistance: suctionM / square,
      checkValve: plan.checkValve,
      boreM: plan.boreM,
    },
    discharge: { resistance: (headM - suctionM) / square },
    thermal: thermalOf(motor, fullLoadRiseK * (plan.riseShare ?? 1)),
    gas: {
      feed: plan.feed ?? "constant flow",
      injectorKpa: plan.injectorKpa,
      lossPerK: plan.gasLossPerK ?? 0,
      foulingPerDay: 0.002,
      flowLpm: 0.06 * flowLpm,
    },
    atmosphericKpa: atmosphericPressureKpa(plan.elevationM ?? 0),
    ozone: plan.ozone,
  };
}

function thermalOf(motor: Motor, riseK: number): Thermal {
  const total = motor.fullLoadLossW / riseK;
  return {
    toAirWPerK: 0.8 * total,
    toCasingWPerK: 0.2 * total,
    capacityJPerK: timeConstantS * total,
    casingToAirWPerK: (dryShare * motor.ratedPowerW) / 95,
    casingCapacityJPerK: 16 * motor.ratedPowerW,
    windingRiseK: 22,
  };
}
