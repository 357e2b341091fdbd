import { Box, Text } from "ink";
import { memo, type ReactElement } from "react";
import { fitted, type Line } from "./line.ts";
import { paint, type Theme } from "./theme.ts";

const Row = memo(function Row({ text }: { readonly text: string }): ReactElement {
  return <Text wrap="truncate">{text === "" ? " " : text}</Text>;
});

interface RowsProps {
  readonly lines: readonly Line[];
  readonly width: number;
  readonly theme: Theme;
}

/** A screen of rows: one text a row, since a box a cell costs several times as much to lay out. */
export function Rows({ lines, width, theme }: RowsProps): ReactElement {
  return (
    <Box flexDirection="column">
      {lines.map((content, row) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a row of the screen is its place
        <Row key={row} text={paint(fitted(content, width), theme)} />
      ))}
    </Box>
  );
}
