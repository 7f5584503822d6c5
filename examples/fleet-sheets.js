/** Setting sheets for examples with many relays: the same four functions, with settings that differ. No program. */

const accuracy = { pickup: { percent: 5 }, time: { percent: 5, absolute: "40 ms" }, dropout: { percent: 3 } };

/**
 * Settings that differ from relay to relay.
 * @param {number} count
 */
export function* sheets(count) {
  for (let i = 0; i < count; i++) {
    yield {
      format: "tripwright/sheet@1",
      substation: "Corriedale Junction 33/11 kV",
      feeder: `Tannery Lane ${i + 1}`,
      relay: `F${i + 1}`,
      frequency: "50 Hz",
      values: "secondary",
      ct: "400/5",
      vt: "11 kV/110 V",
      elements: [
        {
          id: "51P",
          function: "51",
          pickup: 2 + (i % 30) / 10,
          curve: "iec-inverse",
          multiplier: 0.1 + (i % 9) / 10,
          startContact: "start",
          dropoutRatio: 0.95,
          accuracy,
        },
        { id: "50P", function: "50", pickup: 20 + (i % 20), dropoutRatio: 0.95, accuracy },
        {
          id: "51N",
          function: "51N",
          pickup: 0.5,
          curve: "iec-very-inverse",
          multiplier: 0.2,
          startContact: "start N",
          dropoutRatio: 0.95,
          accuracy,
        },
        {
          id: "27",
          function: "27",
          watches: "line-to-line",
          pickup: "0.8 × rated",
          delay: "1.5 s",
          dropoutRatio: 1.05,
          accuracy,
        },
      ],
    };
  }
}
