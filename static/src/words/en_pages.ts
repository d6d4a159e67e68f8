// SPDX-License-Identifier: Apache-2.0
// English: what only pages say that a tablet fetches when somebody opens one.
import { goods } from "./en/goods.js";
import { leadBatch } from "./en/lead_batch.js";
import { leadLists } from "./en/lead_lists.js";
import { looks } from "./en/looks.js";
import { machine } from "./en/machine.js";
import { requests } from "./en/requests.js";
import { setup } from "./en/setup.js";

export const enPages = {
  ...setup,
  ...requests,
  ...looks,
  ...machine,
  ...goods,
  ...leadBatch,
  ...leadLists,
} as const;
