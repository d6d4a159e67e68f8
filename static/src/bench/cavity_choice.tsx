// SPDX-License-Identifier: Apache-2.0
// Which half of the die formed the piece: chosen once, and kept for the finds that follow.
import type { PartDefinition } from "../records/kinds.js";
import { PressKey } from "../widgets/press_key.js";
import { say } from "../words/say.js";
import type { TallySession } from "./tally_session.js";

/** True for a part whose pieces bear a letter. */
export function hasCavities({ cavities = [] }: PartDefinition): boolean {
  return cavities.length > 0;
}

/** The key that shows the letter in force, and opens the choice of another. */
export function CavityKey({
  session,
  blocked,
}: {
  readonly session: TallySession;
  readonly blocked: boolean;
}) {
  if (!hasCavities(session.bench.definition)) return null;
  const { cavity, choosingCavity } = session;
  return (
    <PressKey
      class="cavity"
      blocked={blocked}
      held={choosingCavity.value}
      onPress={() => {
        session.settle();
        choosingCavity.value = !choosingCavity.value;
      }}
    >
      <span>{say("cavity.name")}</span> <strong>{cavity.value ?? say("cavity.not_said")}</strong>
    </PressKey>
  );
}

/** All letters, at the place where zones are asked for. */
export function CavityChoice({ session }: { readonly session: TallySession }) {
  const { cavity, choosingCavity } = session;
  const choose = (chosen: string | undefined): void => {
    cavity.value = chosen;
    choosingCavity.value = false;
  };
  return (
    <div class="zones">
      <h2>{say("cavity.which")}</h2>
      {(session.bench.definition.cavities ?? []).map((letter) => (
        <PressKey key={letter} class="zone-key" held={letter === cavity.value} onPress={() => choose(letter)}>
          {letter}
        </PressKey>
      ))}
      <PressKey class="zone-key" held={cavity.value === undefined} onPress={() => choose(undefined)}>
        {say("cavity.not_said")}
      </PressKey>
    </div>
  );
}
