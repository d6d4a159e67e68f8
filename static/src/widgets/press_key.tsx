// SPDX-License-Identifier: Apache-2.0
// A key that acts the moment it goes down. Only acts that one tap takes back belong on it: whatever cannot be
// undone acts when the finger leaves (an ordinary button), so that sliding away is a way out.
import type { ComponentChildren } from "preact";
import { useRef } from "preact/hooks";

const FLASH_MS = 180;

export interface PressKeyProps {
  readonly class: string;
  /** `at` is the time of the touch itself, on a clock that never goes back. */
  readonly onPress: (at: number) => void;
  readonly children: ComponentChildren;
  readonly blocked?: boolean;
  readonly name?: string;
  readonly held?: boolean;
}

export function PressKey(props: PressKeyProps) {
  const taken = useRef(false);
  const press = (event: Event): void => {
    if (props.blocked === true) return;
    flash(event.currentTarget);
    props.onPress(event.timeStamp);
  };
  const down = (event: PointerEvent): void => {
    if (event.button !== 0) return;
    taken.current = true;
    press(event);
  };
  // A click without a pointer before it comes from the keyboard or from an assistive technology.
  const click = (event: MouseEvent): void => {
    const wasPointer = taken.current && event.detail > 0;
    taken.current = false;
    if (!wasPointer) press(event);
  };
  return (
    <button
      type="button"
      class={`key ${props.class}`}
      aria-label={props.name}
      aria-pressed={props.held}
      aria-disabled={props.blocked === true}
      onPointerDown={down}
      onKeyDown={stopHolding}
      onClick={click}
    >
      {props.children}
    </button>
  );
}

/** A key held down on the keyboard is one press. */
function stopHolding(event: KeyboardEvent): void {
  if (event.repeat) event.preventDefault();
}

/** Turn the key over for a moment. It is done by hand on the element: the next drawing would come too late. */
function flash(target: EventTarget | null): void {
  if (!(target instanceof HTMLElement)) return;
  target.dataset["flash"] = "on";
  setTimeout(() => {
    delete target.dataset["flash"];
  }, FLASH_MS);
}
