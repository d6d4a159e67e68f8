// SPDX-License-Identifier: Apache-2.0
// What this tablet holds of gauges, for the folds of a batch and for whoever measures.
import { Gauges, numberSaid } from "../folds/gauges.js";
import { GaugeDesk } from "../machine/gauge_desk.js";
import type { ReadRecord } from "../records/kinds.js";
import type { Tablet } from "../sync/contract.js";
import { trusted } from "./goods_records.js";

/** All gauges this tablet knows. Who of other tablets is a lead the server knows alone: their word is taken here. */
function gaugesIn(records: readonly ReadRecord[], tablet: Tablet): Gauges {
  const about = records.filter(
    (record) =>
      numberSaid(record) !== undefined ||
      (record.known?.kind === "record_withdrawn" && record.known.body.gauge !== undefined),
  );
  const proven = trusted(about, tablet);
  return new Gauges(about, proven, proven);
}

/** The gauges a batch was measured with, for its folds; undefined where its values name none. */
export function gaugesOf(
  ofBatch: readonly ReadRecord[],
  records: readonly ReadRecord[],
  tablet: Tablet,
): Gauges | undefined {
  const isNamed = ofBatch.some(
    ({ known }) => known?.kind === "check_taken" && known.body.gauge !== undefined,
  );
  return isNamed ? gaugesIn(records, tablet) : undefined;
}

export function gaugeDesk(records: readonly ReadRecord[], tablet: Tablet): GaugeDesk {
  const signOns = new Map(records.map((record) => [record.id, record.sign_on]));
  return new GaugeDesk(
    gaugesIn(records, tablet),
    siteZone(records),
    () => tablet.now(),
    (record) => signOns.get(record) === tablet.signOn.value?.id,
  );
}

/** The works' own zone; before the works is known here, this device's. */
function siteZone(records: readonly ReadRecord[]): string {
  const opened = records.flatMap(({ known }) =>
    known?.kind === "works_opened" ? [known.body.time_zone] : [],
  );
  return opened[0] ?? Intl.DateTimeFormat().resolvedOptions().timeZone;
}
