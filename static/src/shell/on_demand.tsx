// SPDX-License-Identifier: Apache-2.0
// Pages that are no part of the capture path come to the browser when somebody opens them. The service worker has
// them beforehand, so that they open without contact too.
import type { ComponentType } from "preact";
import { useEffect, useState } from "preact/hooks";
import { learnPages, say } from "../words/say.js";
import { again } from "./update.js";

/** A component that is fetched at its first showing, with the words of its language; from then on it is there at once. */
export function onDemand<Props extends object>(
  fetch: () => Promise<ComponentType<Props>>,
): ComponentType<Props> {
  let Page: ComponentType<Props> | undefined;
  return function OnDemand(props: Props) {
    const [, setFetched] = useState(Page !== undefined);
    const [isMissing, setMissing] = useState(false);
    const open = (): void => {
      setMissing(false);
      Promise.all([fetch(), learnPages()]).then(
        ([page]) => {
          Page = page;
          setFetched(true);
        },
        () => setMissing(true),
      );
    };
    useEffect(() => {
      if (Page === undefined) open();
    }, []);
    if (Page !== undefined) return <Page {...props} />;
    return (
      <main class="stop is-calm">
        {isMissing ? (
          <>
            <p role="alert">{say("page.missing")}</p>
            <button type="button" class="key main" onClick={() => again(open)}>
              {say("page.again")}
            </button>
          </>
        ) : (
          <p role="status">{say("page.coming")}</p>
        )}
      </main>
    );
  };
}
