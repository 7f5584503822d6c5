import type { Definition } from "./definition.js";
import { observe } from "./definition.js";
import { byRms, groundCurrent, onePhaseCurrent } from "./poses.js";
import type { EarthFaultSetting, OvercurrentSetting } from "./setting.js";
import { currents } from "./setup.js";
import { magnitudeOn, phaseCurrents, residual } from "./watched.js";

const common = {
  unit: "A",
  side: "over",
  fields: [],
  system: [],
  healthyLevel: () => 0,
  practice: {
    around: { ratio: 0.1 },
    beyond: { ratio: 0.2 },
    multiples: [3, 7, 15],
    measuringCycles: 2,
    dropout: { ratio: 0.95 },
  },
} as const;

const instantaneous = { laws: ["definite"], instantaneous: true } as const;
const timed = { laws: ["definite", "inverse", "table"] } as const;

const phase: Pick<Definition<OvercurrentSetting>, "watches" | "read" | "pose"> = {
  watches: ["phase"],
  read: (inputs, setting) => observe(Math.max(...phaseCurrents(inputs)), setting, "over"),
  pose: (_setting, setup) => byRms(currents(setup, 0), 1),
};

const fromResidual: Pick<Definition<EarthFaultSetting>, "watches" | "read" | "pose"> = {
  watches: ["residual"],
  read: (inputs, setting) => observe(residual(inputs, "i"), setting, "over"),
  pose: (_setting, setup) => onePhaseCurrent(setup),
};

const fromOwnTransformer: Pick<Definition<EarthFaultSetting>, "watches" | "read" | "pose"> = {
  watches: ["ground"],
  read: (inputs, setting) => observe(magnitudeOn(inputs, "ig"), setting, "over"),
  pose: (_setting, setup) => groundCurrent(setup),
};

/** 50: instantaneous overcurrent. */
export const instantaneousOvercurrent: Definition<OvercurrentSetting> = {
  ...common,
  ...instantaneous,
  ...phase,
  function: "50",
  title: "instantaneous overcurrent",
  source: "IEEE C37.2 device function 50; IEC 60255-151",
};

/** 51: time overcurrent. */
export const timeOvercurrent: Definition<OvercurrentSetting> = {
  ...common,
  ...timed,
  ...phase,
  function: "51",
  title: "time overcurrent",
  source: "IEEE C37.2 device function 51; IEC 60255-151",
};

/** 50N: instantaneous earth-fault overcurrent from the residual of the phase currents. */
export const instantaneousEarthFault: Definition<EarthFaultSetting> = {
  ...common,
  ...instantaneous,
  ...fromResidual,
  function: "50N",
  title: "instantaneous residual overcurrent",
  source: "IEEE C37.2 device function 50, suffix N; IEC 60255-151",
};

/** 51N: time earth-fault overcurrent from the residual of the phase currents. */
export const timeEarthFault: Definition<EarthFaultSetting> = {
  ...common,
  ...timed,
  ...fromResidual,
  function: "51N",
  title: "time residual overcurrent",
  source: "IEEE C37.2 device function 51, suffix N; IEC 60255-151",
};

/** 50G: instantaneous earth-fault overcurrent behind a current transformer of its own. */
export const instantaneousGround: Definition<EarthFaultSetting> = {
  ...common,
  ...instantaneous,
  ...fromOwnTransformer,
  function: "50G",
  title: "instantaneous ground overcurrent",
  source: "IEEE C37.2 device function 50, suffix G; IEC 60255-151",
};

/** 51G: time earth-fault overcurrent behind a current transformer of its own. */
export const timeGround: Definition<EarthFaultSetting> = {
  ...common,
  ...timed,
  ...fromOwnTransformer,
  function: "51G",
  title: "time ground overcurrent",
  source: "IEEE C37.2 device function 51, suffix G; IEC 60255-151",
};
