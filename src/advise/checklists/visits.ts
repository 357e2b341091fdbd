import { cautions } from "../cautions.ts";
import { type Checklist, step, usual } from "./checklist.ts";

const gasAndWater = [cautions.unplug, cautions.ozone, cautions.relieve, cautions.oxygenFeed, cautions.vault];

export const inspectionChecklist: Checklist = {
  steps: [
    step("Tell somebody where you are and when you are back."),
    step("Before you touch anything read current, suction, discharge and gas; hold them against the screen."),
    step("Listen and look: noise, shaking, heat, leaks, a wet enclosure, blocked vents, chewed cords."),
    step("Look at the plume over the generator: even, and where it always was."),
    usual("Press the ground-fault device's test button, nobody in or at the water: it must cut the power."),
    step("It did not cut it: leave the unit unplugged and call a licensed electrician."),
    usual("Unplugged and relieved: clear the strainer and the suction screen, look at its gasket."),
    usual("Look at the gas source's filter, the gas line and its check valve: no water in it."),
    step("Ozone: its lamp, its air or oxygen feed. The interlock is tested by the maker's manual alone."),
    usual("Measure at the same place and time of day: dissolved oxygen, Secchi depth, water temperature."),
    usual("Secchi depth on the shaded side: the mean of where the disk vanishes and comes back."),
    step("Compare the logger's clock with a right one. Wipe the sensors."),
    step("Stand beside it as it starts: fill the casing, watch it prime and settle."),
    step("Put it on record with what you measured: service done FLEET UNIT inspection ..."),
  ],
  load: ["oxygen meter, Secchi disk and thermometer", "priming water"],
  cautions: [...gasAndWater, cautions.electrician, cautions.wet, cautions.ice, cautions.manual],
};

export const repairChecklist: Checklist = {
  steps: [
    step("Put on record that it begins: service begin FLEET UNIT repair."),
    step("Read what the alarm says and what it was held against; take a photo of what you find."),
    step("Ozone off, gas off; unplug and keep the plug; relieve gas and water pressure. Let it cool."),
    step("Find why it failed before you renew what failed: strainer, air, voltage, frost, age."),
    step("Parts as the maker names them; only parts clean of oil and meant for it on an oxygen line."),
    step("Motor, cord, outlet, breaker: a licensed electrician."),
    usual("Press the ground-fault device's test button before the unit goes back to work."),
    step("Fill the casing, plug it in standing beside it; watch it prime and run for half an hour."),
    step("Put the end on record with the parts: service end FLEET UNIT repair --parts ..."),
    step("Say whether the baseline still holds: service baseline FLEET UNIT confirm, or relearn."),
  ],
  load: ["tools, gaskets and clamps", "priming water"],
  cautions: [
    ...gasAndWater,
    cautions.restart,
    cautions.scald,
    cautions.electrician,
    cautions.wet,
    cautions.interlock,
    cautions.manual,
  ],
};

export const rePipingChecklist: Checklist = {
  steps: [
    step("Put on record that it begins: service begin FLEET UNIT re-piping."),
    step("Write down lengths, bores, fittings and the lift as they are, and as they will be."),
    step("Ozone off, gas off; unplug and keep the plug; relieve gas and water pressure."),
    usual("Suction: short, no smaller than the pump's inlet, rising to the pump, every joint tight to air."),
    usual("A foot valve or check valve that holds the prime; no high point that gathers air."),
    step("Fill the casing, plug it in standing beside it; look at every joint under pressure."),
    step("Write the new piping into the fleet file; put the end on record."),
    step("The old baseline no longer fits: service baseline FLEET UNIT relearn."),
  ],
  load: ["pipe, hose, clamps, thread tape", "priming water"],
  cautions: [...gasAndWater, cautions.scald, cautions.ice, cautions.manual],
};

export const swapChecklist: Checklist = {
  steps: [
    step("Put on record that it begins: service begin FLEET UNIT swap."),
    step("Write down the serial numbers of the skid that goes and of the one that comes."),
    step("Ozone off, gas off; unplug and keep the plug; relieve gas and water pressure; drain."),
    step("Motor, pump and gas feed of the new one are as the fleet file says; else change it there."),
    step("Lift it as heavy as it is: two people, or a hoist; no wet ground under a rope."),
    usual("Press the ground-fault device's test button before the new one goes to work."),
    step("Fill the casing, plug it in standing beside it; watch it prime and settle."),
    step("service swap FLEET UNIT --serial NEW, and `serial: NEW` in the fleet file."),
    step("The place keeps its baseline. Where the new skid runs otherwise: service baseline ... relearn."),
    step("It came with a clean generator: service done FLEET UNIT cleaning, so that the count begins."),
  ],
  load: ["the other skid, its cord and couplings", "priming water"],
  cautions: [...gasAndWater, cautions.scald, cautions.electrician, cautions.wet, cautions.manual],
};
