/** What the source at hand cannot make. */
import type { Channel, Timeline } from "../base/sequence.js";
import { plain, written } from "../base/written.js";
import type { RelaySettings } from "../sheet/index.js";
import { type ChannelLimits, checkSource, type SourceExceedance } from "../timeline/index.js";

/** Where a timeline exceeds the limits; where no limit is given nothing is checked. */
export function exceedancesOf(
  timeline: Timeline,
  { current = {}, voltage = {} }: { readonly [Q in Channel["quantity"]]: ChannelLimits | undefined },
): SourceExceedance[] {
  const isLimited = [current, voltage].some((limits) => Object.keys(limits).length > 0);
  return isLimited ? [...checkSource(timeline, { current, voltage }).exceedances] : [];
}

const withoutDuty = ({ duty: _, ...limits }: ChannelLimits = {}): ChannelLimits => limits;

/**
 * Why the source cannot make a timeline; nothing where it can. A duty is no reason: a state is mostly over before its full
 * duration, because the relay operates.
 */
export function beyondSource(timeline: Timeline, settings: RelaySettings): string | undefined {
  const { current, voltage } = settings.sourceLimits;
  const [worst] = exceedancesOf(timeline, { current: withoutDuty(current), voltage: withoutDuty(voltage) }).sort(
    (a, b) => beyondBy(b) - beyondBy(a),
  );
  if (worst === undefined) return undefined;
  const [needed, most] = [worst.amount, worst.allowed].map((x) => written(plain(x, 4), worst.unit)) as [string, string];
  const where = `on channel ${worst.channel}`;
  switch (worst.limit) {
    case "rms":
      return `needs ${needed} on one channel, the source makes at most ${most}`;
    case "power":
      return `puts ${needed} into the burden ${where}, the source gives at most ${most}`;
    case "compliance":
      return `needs ${needed} across the burden ${where}, the source drives at most ${most}`;
    default:
      return `needs ${needed} ${where}, beyond the ${most} of the source`;
  }
}

const beyondBy = ({ amount, allowed }: SourceExceedance): number => Math.abs(amount - allowed) / allowed;
