// SPDX-License-Identifier: Apache-2.0
// A field for a PIN that is typed on a keyboard. What is typed is never shown, and kept nowhere.

export interface PinFieldProps {
  readonly label: string;
  readonly hint?: string;
  readonly value: string;
  readonly onChange: (value: string) => void;
}

export function PinField({ label, hint, value, onChange }: PinFieldProps) {
  return (
    <label class="field">
      <span>{label}</span>
      <input
        type="password"
        autocomplete="off"
        maxLength={64}
        value={value}
        onInput={(event) => onChange(event.currentTarget.value)}
      />
      {hint !== undefined && <small>{hint}</small>}
    </label>
  );
}
