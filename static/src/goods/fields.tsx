// SPDX-License-Identifier: Apache-2.0
// Fields for what stands on paper and on bars: names as they are printed, and numbers with a point or a comma.
import { decimal } from "../records/values.js";

export interface TextFieldProps {
  readonly label: string;
  readonly value: string;
  readonly onChange: (value: string) => void;
  readonly isNumber?: boolean;
  /** What has been written here before, to choose from. */
  readonly known?: readonly string[];
}

export function TextField({ label, value, onChange, isNumber = false, known = [] }: TextFieldProps) {
  const list = known.length === 0 ? undefined : `known-${label}`;
  return (
    <label class="field">
      <span>{label}</span>
      <input
        value={value}
        maxLength={200}
        autocomplete="off"
        autocapitalize={isNumber ? "off" : "characters"}
        inputMode={isNumber ? "decimal" : "text"}
        list={list}
        onInput={(event) => onChange(event.currentTarget.value)}
      />
      {list !== undefined && (
        <datalist id={list}>
          {known.map((one) => (
            <option key={one} value={one} />
          ))}
        </datalist>
      )}
    </label>
  );
}

export interface ChoiceFieldProps<T extends string> {
  readonly label: string;
  readonly value: T;
  readonly of: readonly (readonly [T, string])[];
  readonly onChange: (value: T) => void;
}

export function ChoiceField<T extends string>({ label, value, of, onChange }: ChoiceFieldProps<T>) {
  return (
    <label class="field">
      <span>{label}</span>
      <select value={value} onChange={(event) => onChange(event.currentTarget.value as T)}>
        {of.map(([one, words]) => (
          <option key={one} value={one}>
            {words}
          </option>
        ))}
      </select>
    </label>
  );
}

/** A number above 0 as a record holds it; undefined for what is none. */
export function asNumber(typed: string): string | undefined {
  const text = typed.trim().replace(",", ".");
  return decimal(text) === undefined && Number(text) > 0 ? text : undefined;
}

/** The members that were filled in: a record says nothing of the others. */
export function filledIn<T extends string>(texts: Readonly<Record<T, string>>): Partial<Record<T, string>> {
  const entries = Object.entries<string>(texts).map(([name, text]) => [name, text.trim()] as const);
  return Object.fromEntries(entries.filter(([, text]) => text !== "")) as Partial<Record<T, string>>;
}
