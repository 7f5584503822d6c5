/** How large a plane is drawn, and from where to where. */
import { linearScale, type Scale } from "./scale.js";

/** The panel of a plane. */
export interface PlaneFrame {
  readonly across: Scale;
  readonly up: Scale;
  readonly width: number;
  readonly height: number;
}

const WIDTH = 520;
const HEIGHT = 420;
/** A plane is never narrower than this, however thin what it shows. */
const LEAST = 260;

/** A frame about these places and the origin; with `equal` one unit is as long on both axes. */
export function frameFor(places: readonly { readonly x: number; readonly y: number }[], equal: boolean): PlaneFrame {
  const across = linearScale([0, ...places.map(({ x }) => x + 0)], { count: 8 });
  const up = linearScale([0, ...places.map(({ y }) => y + 0)], { count: 8 });
  if (!equal) return { across, up, width: WIDTH, height: HEIGHT };
  const unitsPerPixel = Math.max(lengthOf(across) / WIDTH, lengthOf(up) / HEIGHT);
  const wide = atLeast(across, LEAST * unitsPerPixel);
  const tall = atLeast(up, LEAST * unitsPerPixel);
  const count = 8;
  const step = { count: Math.max(3, Math.round((count * lengthOf(wide)) / Math.max(lengthOf(wide), lengthOf(tall)))) };
  const stepUp = {
    count: Math.max(3, Math.round((count * lengthOf(tall)) / Math.max(lengthOf(wide), lengthOf(tall)))),
  };
  return {
    across: linearScale(wide.domain, { exact: true, ...step }),
    up: linearScale(tall.domain, { exact: true, ...stepUp }),
    width: Math.round(lengthOf(wide) / unitsPerPixel),
    height: Math.round(lengthOf(tall) / unitsPerPixel),
  };
}

const lengthOf = ({ domain: [low, high] }: Pick<Scale, "domain">): number => high - low;

/** The same axis, made longer to both sides where it is too short. */
function atLeast(scale: Scale, length: number): Pick<Scale, "domain"> {
  const [low, high] = scale.domain;
  const missing = Math.max(0, length - (high - low)) / 2;
  return { domain: [low - missing, high + missing] };
}
