/** One sample: its labels and its number; left out where the number is null. */
export type Sample = readonly [labels: Readonly<Record<string, string>>, value: number | null];

/** A family of OpenMetrics 1.0; a counter's samples get their `_total`. */
export interface Family {
  readonly name: string;
  readonly type: "gauge" | "counter" | "stateset";
  readonly help: string;
  readonly samples: readonly Sample[];
  readonly unit?: string;
}

export function familyLines({ name, type, help, samples, unit }: Family): string[] {
  const total = type === "counter" ? "_total" : "";
  return [
    `# TYPE ${name} ${type}`,
    ...(unit === undefined ? [] : [`# UNIT ${name} ${unit}`]),
    `# HELP ${name} ${escaped(help)}`,
    ...samples.flatMap(([labels, value]) =>
      value === null || Number.isNaN(value) ? [] : [`${name}${total}${labelText(labels)} ${value}`],
    ),
  ];
}

function labelText(labels: Readonly<Record<string, string>>): string {
  const pairs = Object.entries(labels).map(([name, value]) => `${name}="${escaped(value)}"`);
  return pairs.length === 0 ? "" : `{${pairs.join(",")}}`;
}

function escaped(text: string): string {
  return text.replaceAll("\\", "\\\\").replaceAll("\n", "\\n").replaceAll('"', '\\"');
}
