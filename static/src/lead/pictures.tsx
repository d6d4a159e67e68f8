// SPDX-License-Identifier: Apache-2.0
// Pictures beside the piece they show: the server's copies, and a sentence where one has not come.
import { useState } from "preact/hooks";
import { say } from "../words/say.js";
import type { PlaceLine } from "./holds_list.js";
import "./pictures.css";

export function Pictures({ of }: { readonly of: PlaceLine }) {
  const pictures = of.pictures ?? [];
  if (pictures.length === 0) return null;
  return (
    <ul class="pictures">
      {pictures.map(({ file, here }) => (
        <li key={file}>{here ? <Picture file={file} tag={of.tag ?? ""} /> : <Away />}</li>
      ))}
    </ul>
  );
}

function Away() {
  return <p class="away">{say("picture.away")}</p>;
}

function Picture({ file, tag }: { readonly file: string; readonly tag: string }) {
  const [isLarge, setLarge] = useState(false);
  const [isBroken, setBroken] = useState(false);
  if (isBroken) return <p class="away">{say("picture.no_contact")}</p>;
  return (
    <button
      type="button"
      class={isLarge ? "picture is-large" : "picture"}
      aria-label={say(isLarge ? "picture.smaller" : "picture.larger")}
      onClick={() => setLarge(!isLarge)}
    >
      <img
        src={`/api/v1/files/${file}/copy`}
        alt={say("picture.of", { tag })}
        loading="lazy"
        onError={() => setBroken(true)}
      />
    </button>
  );
}
