/** Settings of quadrilaterals whose lines meet in four corners. */
import fc from "fast-check";
import { type Quadrilateral, quadrilateral } from "tripwright/characteristic";

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });

export const quadrilaterals: fc.Arbitrary<Quadrilateral> = fc
  .record({
    reactance: number(0.1, 50),
    resistance: number(0.1, 50),
    lineAngle: number(40, 89),
    tilt: number(-10, 10),
    forward: fc.record({ from: number(-89, 20), to: number(100, 165) }),
  })
  .filter((zone) => {
    try {
      return quadrilateral(zone).corners.length === 4;
    } catch {
      return false;
    }
  });
