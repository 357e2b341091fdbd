/** Text as one word of a shell: nothing in it is the shell's own. */
export const quote = (text: string): string => `'${text.replaceAll("'", "'\\''")}'`;

/** The ids of `./fleet.yaml`, by a shell's own means, so that no program is started at a key press. */
export const unitIds = String.raw`sed -nE "s/^[[:space:]]*-[[:space:]]*(\{[[:space:]]*)?id:[[:space:]]*[\"']?([[:alnum:]._-]+).*/\2/p" fleet.yaml 2>/dev/null`;

/** Names of `./fleet.yaml` as far as they hold nothing that is a shell's own; a line each. */
const name = "([[:alnum:]][[:alnum:] ._-]*)";

/** The names under its `sites:`, two blanks in, by a shell's own means. */
export const siteNames = String.raw`sed -nE "/^sites:/,/^[^[:space:]#s]/ s/^  [\"']?${name}[\"']?:.*/\1/p" fleet.yaml 2>/dev/null`;

/** The customers of its sites, by a shell's own means. */
export const customerNames = String.raw`sed -nE "s/.*customer:[[:space:]]*[\"']?${name}.*/\1/p" fleet.yaml 2>/dev/null | sort -u`;
