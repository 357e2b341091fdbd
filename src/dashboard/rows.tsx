import { Box, Text } from "ink";
import { memo, type ReactElement } from "react";
import { fitted, type Line, line } from "./line.ts";
import { linearText } from "./linear/linear-text.ts";
import { paint, type Theme } from "./theme.ts";

const Row = memo(function Row({ text }: { readonly text: string }): ReactElement {
  return <Text wrap="truncate">{text === "" ? " " : text}</Text>;
});

interface RowsProps {
  readonly lines: readonly Line[];
  readonly width: number;
  readonly theme: Theme;
  /** To be read out: words alone, and no row without any. */
  readonly linear: boolean;
}

/** A screen of rows: one text a row, since a box a cell costs several times as much to lay out. */
export function Rows({ lines, width, theme, linear }: RowsProps): ReactElement {
  if (linear) {
    const words = lines.map(linearText).filter((text) => text !== "");
    const bare = { ...theme, colour: false, attributes: false };
    return (
      <Box flexDirection="column">
        {words.map((text, row) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: a row of the screen is its place
          <Row key={row} text={paint(line(text), bare)} />
        ))}
      </Box>
    );
  }
  return (
    <Box flexDirection="column">
      {lines.map((content, row) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a row of the screen is its place
        <Row key={row} text={paint(fitted(content, width), theme)} />
      ))}
    </Box>
  );
}
