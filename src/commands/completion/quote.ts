/** Text as one word of a shell: nothing in it is the shell's own. */
export const quote = (text: string): string => `'${text.replaceAll("'", "'\\''")}'`;

/** The ids of `./fleet.yaml`, by a shell's own means, so that no program is started at a key press. */
export const unitIds = String.raw`sed -nE "s/^[[:space:]]*-[[:space:]]*(\{[[:space:]]*)?id:[[:space:]]*[\"']?([[:alnum:]._-]+).*/\2/p" fleet.yaml 2>/dev/null`;
