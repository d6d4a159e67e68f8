// SPDX-License-Identifier: Apache-2.0
// The pages of the lead and of set-up, and those an inspector opens between trays: not among what a tablet loads to
// tally.
import { onDemand } from "./on_demand.js";

export const Enrol = onDemand(async () => (await import("../setup/enrol.js")).Enrol);
export const SetPin = onDemand(async () => (await import("../setup/set_pin.js")).SetPin);
export const PeoplePage = onDemand(async () => (await import("../setup/people_page.js")).PeoplePage);
export const DevicesPage = onDemand(async () => (await import("../setup/devices_page.js")).DevicesPage);
export const PedalPage = onDemand(async () => (await import("../setup/pedal_page.js")).PedalPage);
export const BatchListPage = onDemand(async () => (await import("../lead/batch_list_page.js")).BatchListPage);
export const BatchPage = onDemand(async () => (await import("../lead/batch_page.js")).BatchPage);
export const HoldsPage = onDemand(async () => (await import("../lead/holds_page.js")).HoldsPage);
export const ParetoPage = onDemand(async () => (await import("../lead/pareto_page.js")).ParetoPage);
export const ShiftPage = onDemand(async () => (await import("../lead/shift_page.js")).ShiftPage);
export const MachineChecksPage = onDemand(
  async () => (await import("../lead/machine_checks_page.js")).MachineChecksPage,
);
export const ReceiptsPage = onDemand(async () => (await import("../lead/receipts_page.js")).ReceiptsPage);
export const GaugesPage = onDemand(async () => (await import("../lead/gauges_page.js")).GaugesPage);
export const SetAsidePage = onDemand(async () => (await import("../lead/set_aside_page.js")).SetAsidePage);

const lookPages = () => import("./look_pages.js");
export const CountPage = onDemand(async () => (await lookPages()).Count);
export const ReworkOutAndBack = onDemand(async () => (await lookPages()).Rework);
export const StrayPieces = onDemand(async () => (await lookPages()).Strays);
export const EndPage = onDemand(async () => (await lookPages()).End);
export const Entries = onDemand(async () => (await import("./entries.js")).Entries);
export const OpenBatch = onDemand(async () => (await import("../bench/open_batch.js")).OpenBatch);
export const MachineScreens = onDemand(async () => (await import("./machine_screens.js")).MachineScreens);
export const GoodsScreens = onDemand(async () => (await import("./goods_screens.js")).GoodsScreens);
