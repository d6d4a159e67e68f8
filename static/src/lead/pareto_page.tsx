// SPDX-License-Identifier: Apache-2.0
// What was found, the most frequent first: over the shift of now unless another span is asked for.
import type { Tablet } from "../sync/contract.js";
import { say } from "../words/say.js";
import { ParetoPart } from "./pareto_part.js";

export function ParetoPage({ tablet }: { readonly tablet: Tablet }) {
  return (
    <main class="pareto">
      <h1>{say("pareto.title")}</h1>
      <ParetoPart tablet={tablet} />
    </main>
  );
}
