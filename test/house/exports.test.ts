import { readFileSync } from "node:fs";
import { expect, test } from "vitest";

/**
 * Every name that each entry point exports at run time. A name that goes away or changes its meaning is a major version, a
 * new one at least a minor one (see DEVELOPERS.md): so this list changes with a line in CHANGELOG.md, never in passing.
 */
const EXPORTS = {
  curve: `
    InputError advance coordinationMargin curveNames curveSide errorFactors fitCurve multipleForTime
    multiplierForMargin multiplierForTime operateInstant operateInstantOfSamples operateTime operateTimes
    requiredMargin resetTime standardCurve timeBand usualAllowance`.trim(),
  sinusoid: `
    InputError amplitudes cyclesToSeconds exactPeakFactor firstPeak fitSinusoid frequencyError frequencyTrack
    harmonics meanOver measure meterReading offsetSinusoid peakFactor phasorTrack rmsFactorAt rmsOver rocofError
    rocofTrack sample secondsToCycles shortCircuitPowerFactor thd timeConstant totalVectorError trackWindow
    valueAt xOverROf`.trim(),
  phasor: `
    InputError add angle angleBetween changeBase complexPower componentsAll conjugate deltaToWyeImpedance divide
    formatPolar fromComponents fromPerUnit lineToLine lineToNeutral magnitude meanAngle multiply multiplyAll
    negate normalizeAngle parsePolar perUnit polar rect rotate scale shortCircuit subtract threePhase toComponents
    toPolarAll toPrimary toSecondary unbalance unwrapAngles wyeToDeltaImpedance`.trim(),
  timeline: `
    InputError atLevel breakerFailureSequence checkInput checkSource chooseRamp faultSequence joinTimelines
    levelGrid levels linearRamp mostInjections nextTrial ramp rampError recloseSequence render renderChunks
    repeatTimeline seekPickup staircase stateAt stepBy stepsWithRest thereAndBack toInt16 totalTime walk`.trim(),
  grading: `
    InputError acceptanceRisks band bandwidthError betweenGroups breakerFailureMargin changeBetween
    combineUncertainty conformanceProbability coverageFactor degreesOfFreedomFrom deviationUncertainty
    driftPerYear dropoutRatio effectiveBits estimatesOf fitLine formatMeasured grade gradeAll guardBand
    lateContacts magnitudeBias propagate quantization repeatability roundTo skewAngle standardUncertainty
    statedAccuracy uncertaintyRatio valueOnLine verdicts`.trim(),
  characteristic: `
    InputError advanceAngle boundaryAlong comparedOf compensated differentialCurrents differentialPoint
    differentialRegion directionalProduct directionalSector distanceTo earthFactor earthFactorOfRatios
    earthRatios faultAt heightAt lagOfClock loopImpedance loopQuantities mho mhoShare mostSlip outlineOf
    quadrilateral quadrilateralShare ratedSecondaryCurrent voltagesApart`.trim(),
  element: `
    InputError checkedDefinition definiteTimeOf definitionOf distanceZone dropoutLevel functionNumbers healthy inputsOf lawOf
    operateTimeOf standingAt startLevel`.trim(),
  plan: `
    InputError expectDropout expectPickup expectTime latestStart plan planEach readSheet settingsOf sheetSchema sourceErrors sourceErrorsOf
    timedAt`.trim(),
  rehearsal: `
    InputError rehearse rehearsePlan rehearsedSource`.trim(),
  record: `
    InputError checkOnLoad expectOnLoad judge readReadings`.trim(),
  explain: `
    InputError explain nextInjection`.trim(),
  report: `
    InputError blankReadings siteCard summarize toCsv toHtml toJson toMarkdown toRows`.trim(),
  figure: `
    InputError curveFigure impedanceFigure phasesAndComponents phasorFigure planeFigure profileFigure
    recordFigures seriesFigure toleranceFigure traceFigure waveformFigure`.trim(),
};

const module = async (name: string): Promise<object> => await import(name);

test.each(Object.entries(EXPORTS))("tripwright/%s exports what it promises", async (name, names) => {
  expect(Object.keys(await module(`tripwright/${name}`)).toSorted()).toEqual(names.split(/\s+/).toSorted());
});

test("tripwright exports the names of all modules", async () => {
  const all = new Set(Object.values(EXPORTS).flatMap((names) => names.split(/\s+/)));
  expect(Object.keys(await module("tripwright")).toSorted()).toEqual([...all].toSorted());
});

test("package.json has an entry point for each, and for the schemas and itself", () => {
  const { exports } = JSON.parse(readFileSync("package.json", "utf8")) as { exports: object };
  const files = ["./sheet.schema.json", "./record.schema.json", "./package.json"];
  const modules = Object.keys(EXPORTS).map((name) => `./${name}`);
  expect(Object.keys(exports).toSorted()).toEqual([".", ...modules, ...files].toSorted());
});

test("the package is made of the build, its changes, and what npm always takes", () => {
  const { files } = JSON.parse(readFileSync("package.json", "utf8")) as { files: unknown };
  expect(files).toEqual(["dist", "CHANGELOG.md"]);
});
