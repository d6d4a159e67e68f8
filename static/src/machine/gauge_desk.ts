// SPDX-License-Identifier: Apache-2.0
// The gauges as whoever measures meets them: how one stands now, and what each value taken with one is worth.
import type { Check } from "../folds/checks.js";
import { dayOf, LATEST, type Gauge, type Gauges, type Standing } from "../folds/gauges.js";
import type { Characteristic } from "../records/kinds.js";

/** So many of the kind a check asks for are offered; the others are scanned. */
const MOST_OFFERED = 6;

/** A gauge by its number, and how it stands for the characteristic it is to measure. */
export interface GaugeStanding {
  readonly number: string;
  readonly standing: Standing;
}

export class GaugeDesk {
  /**
   * zone      whose calendar says what is overdue
   * now       server time [ms]
   * isOwn     true for a record of whoever is signed on
   */
  constructor(
    private readonly gauges: Gauges,
    private readonly zone: string,
    private readonly now: () => number,
    private readonly isOwn: (record: string) => boolean,
  ) {}

  /** How a gauge stands for a characteristic now. */
  standing(number: string, { gauge }: Characteristic): Standing {
    return this.gauges.of(number).standingAt(LATEST, dayOf(this.now(), this.zone), gauge);
  }

  /** What a value is worth by the gauge it names; in order where it names none. */
  standingOf({ id, taken_at: at, gauge }: Check, characteristic: Characteristic): Standing {
    if (gauge === "") return "in_order";
    return this.gauges.of(gauge).standingAt({ at, id }, dayOf(at, this.zone), characteristic.gauge);
  }

  /** The last day a gauge may be used, as it stands now; "" for one that is never due. */
  due(number: string): string {
    return this.gauges.of(number).dueAt(LATEST);
  }

  /** The doubt about a gauge that whoever is here said last and can take back. */
  ownDoubt(number: string): string | undefined {
    const doubts = this.gauges
      .of(number)
      .checks.filter(({ id, result, taken_back }) => result === "doubtful" && !taken_back && this.isOwn(id));
    return doubts.at(-1)?.id;
  }

  /** The gauges that were used here before, then those of the kind a check asks for that are in order. */
  offered(used: readonly string[], characteristic: Characteristic): readonly GaugeStanding[] {
    const asOffered = (number: string): GaugeStanding => ({
      number,
      standing: this.standing(number, characteristic),
    });
    const named = used.map(asOffered);
    const isOfKind = ({ known, number }: Gauge): boolean => known && !used.includes(number);
    const others = this.gauges
      .all()
      .filter((gauge) => characteristic.gauge !== undefined && isOfKind(gauge))
      .map(({ number }) => asOffered(number))
      .filter(({ standing }) => standing === "in_order");
    return [...named, ...others].slice(0, Math.max(MOST_OFFERED, used.length));
  }
}
