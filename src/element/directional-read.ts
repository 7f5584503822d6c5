/** What a directional function makes of voltages and currents. */
import type { Degrees } from "../base/units.js";
import {
  comparedOf,
  type DirectionalQuantities,
  directionalProduct,
  directionalSector,
  distanceTo,
} from "../characteristic/index.js";
import { magnitude } from "../phasor/index.js";
import { type Observation, observe } from "./definition.js";
import type { RelayInputs } from "./inputs.js";
import type { DirectionalSetting } from "./setting.js";
import { PHASES } from "./three-phases.js";
import { phasesSeen } from "./watched.js";

/** The middle of the sector in which it operates; faults behind lie opposite. */
export const middleOf = ({ operates, characteristicAngle }: DirectionalSetting): Degrees =>
  operates === "forward" ? characteristicAngle : characteristicAngle + 180;

/** What is compared: once for each phase, or once for the sequence. */
export function comparedBy(inputs: RelayInputs, setting: DirectionalSetting): DirectionalQuantities[] {
  const { watches, polarising, rotation } = setting;
  const [v, i] = [phasesSeen(inputs, "v"), phasesSeen(inputs, "i")];
  if (watches !== "phase") return [comparedOf({ v, i, polarising, rotation })];
  return PHASES.map((phase) => comparedOf({ v, i, polarising, phase, rotation }));
}

/** The largest current that comes from the side on which it operates; blocked while none does. */
export function read(inputs: RelayInputs, setting: DirectionalSetting): Observation {
  const { measures = "current", minimumVoltage = 0, leading = 90, lagging = 90 } = setting;
  const middle = middleOf(setting);
  const sector = directionalSector({ characteristicAngle: middle, leading, lagging });
  const compared = comparedBy(inputs, setting);
  const right = compared.filter(({ polarising, operating }) => {
    const size = magnitude(polarising);
    if (size === 0 || size < minimumVoltage || magnitude(operating) === 0) return false;
    const { re, im } = directionalProduct({ operating, polarising }, 0);
    return distanceTo(sector, { x: re / size, y: im / size }) >= 0;
  });
  if (right.length === 0)
    return observe(Math.max(...compared.map(({ operating }) => magnitude(operating))), setting, "over", {
      blocked: true,
    });
  const sizes = right.map(({ operating, polarising }) =>
    measures === "current"
      ? magnitude(operating)
      : Math.max(0, directionalProduct({ operating, polarising }, middle).re / magnitude(polarising)),
  );
  return observe(Math.max(...sizes), setting, "over");
}
