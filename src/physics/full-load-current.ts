export type Voltage = 115 | 230;

const table: readonly {
  readonly horsepower: number;
  readonly currentA: Readonly<Record<Voltage, number>>;
}[] = [
  { horsepower: 1 / 6, currentA: { 115: 4.4, 230: 2.2 } },
  { horsepower: 1 / 4, currentA: { 115: 5.8, 230: 2.9 } },
  { horsepower: 1 / 3, currentA: { 115: 7.2, 230: 3.6 } },
  { horsepower: 1 / 2, currentA: { 115: 9.8, 230: 4.9 } },
  { horsepower: 3 / 4, currentA: { 115: 13.8, 230: 6.9 } },
  { horsepower: 1, currentA: { 115: 16, 230: 8 } },
  { horsepower: 3 / 2, currentA: { 115: 20, 230: 10 } },
  { horsepower: 2, currentA: { 115: 24, 230: 12 } },
];

/**
 * Single-phase full-load current, A, for sizing wire and short-circuit protection. Overload settings go by
 * the nameplate, which is mostly lower.
 *
 * Sizes of 1/6 to 2 hp; 0.33 finds 1/3. Throws RangeError for a size that the table does not list.
 * Source: NEC Table 430.248.
 */
export function fullLoadCurrentA(horsepower: number, voltageV: Voltage): number {
  const row = table.find((listed) => Math.abs(listed.horsepower - horsepower) < 0.005);
  if (row === undefined)
    throw new RangeError(`NEC Table 430.248 lists no motor of ${horsepower} hp up to 2 hp`);
  return row.currentA[voltageV];
}
