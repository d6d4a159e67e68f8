// SPDX-License-Identifier: Apache-2.0
// How far a tray is, drawn as the tray from above: its floor is covered as far as it was looked at. The word beside
// it says the same.

export type TrayStage = "not_begun" | "here" | "elsewhere" | "left" | "closed" | "twice";

const FLOORS: Readonly<Record<TrayStage, string>> = {
  not_begun: "",
  here: "M5 5H16V19H5Z",
  elsewhere: "M24 5H35V19H24Z",
  left: "M5 5H12V19H5Z",
  closed: "M5 5H35V19H5Z",
  twice: "M5 5H35V10H5Z M5 14H35V19H5Z",
};

export function TrayShape({ stage }: { readonly stage: TrayStage }) {
  return (
    <svg class="tray-shape" viewBox="0 0 40 24" aria-hidden="true">
      <path d="M2 2H38V22H2Z" fill="none" stroke="currentColor" stroke-width="3" />
      <path d={FLOORS[stage]} fill="currentColor" />
    </svg>
  );
}
