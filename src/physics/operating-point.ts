/** A pump's head over its flow, m and L/min: H = H₀ − a Qⁿ. */
export interface HeadCurve {
  readonly shutoffHeadM: number;
  /** a, m per (L/min)ⁿ. */
  readonly slope: number;
  /** n: 2 for a radial impeller; 1 for a regenerative one, whose head falls nearly in a line (common practice). */
  readonly exponent: 1 | 2;
}

const raised = (flowLpm: number, exponent: 1 | 2): number => (exponent === 2 ? flowLpm * flowLpm : flowLpm);

/** The curve from the shutoff head through one point that the maker states; flow in L/min, heads in m. */
export function headCurve(
  shutoffHeadM: number,
  flowLpm: number,
  headM: number,
  exponent: 1 | 2 = 2,
): HeadCurve {
  return { shutoffHeadM, slope: (shutoffHeadM - headM) / raised(flowLpm, exponent), exponent };
}

/** Head of a pump at a flow in L/min, m. */
export function headAtM({ shutoffHeadM, slope, exponent }: HeadCurve, flowLpm: number): number {
  return shutoffHeadM - slope * raised(flowLpm, exponent);
}

/**
 * Flow at which a pump's head is what the system asks for, L/min; 0 where it asks for more than the shutoff head.
 *
 * `systemHeadM` gives the head that a flow asks for, m, and must not fall with it. By bisection, to 10⁻⁹ of the
 * flow at which the pump has no head left.
 */
export function operatingFlowLpm(curve: HeadCurve, systemHeadM: (flowLpm: number) => number): number {
  if (systemHeadM(0) >= curve.shutoffHeadM) return 0;
  const none = curve.shutoffHeadM / curve.slope;
  let least = 0;
  let most = curve.exponent === 2 ? Math.sqrt(none) : none;
  for (let halving = 0; halving < 30; halving++) {
    const flow = (least + most) / 2;
    if (headAtM(curve, flow) > systemHeadM(flow)) least = flow;
    else most = flow;
  }
  return (least + most) / 2;
}
