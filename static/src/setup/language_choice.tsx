// SPDX-License-Identifier: Apache-2.0
import { isLanguage, language, LANGUAGES, say, type Language } from "../words/say.js";

/** One key per language, each in its own words. */
export function LanguageChoice({ onChosen }: { readonly onChosen: (chosen: Language) => void }) {
  return (
    <fieldset class="languages">
      <legend>{say("sign_on.language")}</legend>
      {Object.entries(LANGUAGES).map(([tag, name]) => (
        <button
          key={tag}
          type="button"
          class="key"
          lang={tag}
          aria-pressed={language.value === tag}
          onClick={() => {
            if (isLanguage(tag)) onChosen(tag);
          }}
        >
          {name}
        </button>
      ))}
    </fieldset>
  );
}
