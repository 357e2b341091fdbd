/** A site of the demo fleet. All are invented; the positions lie in open country. */
export interface DemoSite {
  readonly name: string;
  readonly position: readonly [number, number];
  readonly customer: string;
  readonly access: string;
  readonly workingHours: string;
}

export const demoSites: readonly DemoSite[] = [
  {
    name: "Quillmere golf course",
    position: [41.873, -93.418],
    customer: "greenkeeper's office",
    access: "maintenance gate, then the cart path behind the ninth green",
    workingHours: "06:00-15:00",
  },
  {
    name: "Amberwick Commons",
    position: [41.912, -93.287],
    customer: "housing association, grounds committee",
    access: "key box at the pool house",
    workingHours: "08:00-18:00",
  },
  {
    name: "Sallowby reservoir",
    position: [41.764, -93.521],
    customer: "irrigation district",
    access: "levee road, closed when wet; ring the ditch rider first",
    workingHours: "07:00-19:00",
  },
  {
    name: "Fennick Park",
    position: [41.948, -93.463],
    customer: "town parks department",
    access: "pump vault beside the boathouse",
    workingHours: "07:00-16:00",
  },
  {
    name: "Oxbarrow trout ponds",
    position: [41.806, -93.249],
    customer: "hatchery manager",
    access: "at any hour; wash boots at the door",
    workingHours: "00:00-24:00",
  },
  {
    name: "Pellwater school",
    position: [41.891, -93.556],
    customer: "school grounds",
    access: "report at the front desk",
    workingHours: "08:00-16:00",
  },
];
