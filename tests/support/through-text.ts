import { stateFrom, stateText } from "../../src/terms/state-text.ts";

/** State as a checkpoint gives it back. */
export function throughText<State>(state: State): State {
  return stateFrom(stateText(state)) as State;
}
