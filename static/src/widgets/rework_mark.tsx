// SPDX-License-Identifier: Apache-2.0
// The shape of rework: a stroke that goes out, and comes back into the row.

export function ReworkMark() {
  return (
    <svg class="class-mark" viewBox="0 0 28 28" aria-hidden="true">
      <path d="M3 24H9V8H19V24H25M14 24V15" fill="none" />
    </svg>
  );
}
