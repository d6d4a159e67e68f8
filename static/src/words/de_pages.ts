// SPDX-License-Identifier: Apache-2.0
import { goods } from "./de/goods.js";
import { leadBatch } from "./de/lead_batch.js";
import { leadLists } from "./de/lead_lists.js";
import { looks } from "./de/looks.js";
import { machine } from "./de/machine.js";
import { requests } from "./de/requests.js";
import { setup } from "./de/setup.js";
import type { enPages } from "./en_pages.js";

export const dePages: Readonly<Record<keyof typeof enPages, string>> = {
  ...setup,
  ...requests,
  ...looks,
  ...machine,
  ...goods,
  ...leadBatch,
  ...leadLists,
};
