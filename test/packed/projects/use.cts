import curve = require("tripwright/curve");

import { levels } from "tripwright/timeline";

const time: number = curve.operateTime({ curve: { form: "definite", time: 0.1 } }, 2);
const grid: number[] = levels({ from: "0", to: "1", step: 0.1 });
export = { grid, time };
