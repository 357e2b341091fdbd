/**
 * Words for on, off and fault where the comma is the decimal sign, without their accents: German, French, Spanish,
 * Italian, Portuguese, Dutch, Danish, Norwegian, Swedish, Finnish, Polish, Czech. Common practice of loggers.
 */
const written = {
  1: "yes ein an ja wahr marche oui vrai allume si encendido activado verdadero acceso vero attivo ligado sim verdadeiro aan waar pa til sant sand paalla kylla wl wlaczony tak prawda zap zapnuto ano",
  0: "no aus nein falsch arret non faux eteint apagado desactivado falso spento disattivo desligado nao uit nee onwaar av fra nej nei falskt falsk pois ei wyl wylaczony nie falsz vyp vypnuto ne",
  2: "storung fehler defaut panne fallo averia guasto errore falha avaria storing fout fejl feil fel vika awaria blad porucha",
} as const;

const states = new Map(
  ([1, 0, 2] as const).flatMap((state) => written[state].split(" ").map((word) => [word, state] as const)),
);

/** The state that a word in lower case stands for, with or without its accents; undefined where it is none. */
export function statusWord(text: string): 0 | 1 | 2 | undefined {
  return states.get(text.normalize("NFKD").replace(/\p{M}/gu, "").replaceAll("ł", "l"));
}
