// SPDX-License-Identifier: Apache-2.0
// The pages of the lead and of set-up: not among what an inspector's tablet loads to tally.
import { onDemand } from "./on_demand.js";

export const Enrol = onDemand(async () => (await import("../setup/enrol.js")).Enrol);
export const PeoplePage = onDemand(async () => (await import("../setup/people_page.js")).PeoplePage);
export const DevicesPage = onDemand(async () => (await import("../setup/devices_page.js")).DevicesPage);
export const BatchListPage = onDemand(async () => (await import("../lead/batch_list_page.js")).BatchListPage);
export const BatchPage = onDemand(async () => (await import("../lead/batch_page.js")).BatchPage);
export const HoldsPage = onDemand(async () => (await import("../lead/holds_page.js")).HoldsPage);
export const ParetoPage = onDemand(async () => (await import("../lead/pareto_page.js")).ParetoPage);
export const SetAsidePage = onDemand(async () => (await import("../lead/set_aside_page.js")).SetAsidePage);
