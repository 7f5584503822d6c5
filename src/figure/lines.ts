/** Text broken into lines. */

/** Lines of at most so many characters, broken between words; a word that is longer is broken where it must be. */
export function brokenInto(text: string, most: number): string[] {
  const [first = "", ...others] = text.split(" ").flatMap((word) => pieces(word, most));
  const lines = [first];
  for (const word of others) {
    const longer = `${lines.at(-1)} ${word}`;
    if ([...longer].length <= most) lines[lines.length - 1] = longer;
    else lines.push(word);
  }
  return lines;
}

function pieces(word: string, most: number): string[] {
  const characters = [...word];
  const count = Math.max(1, Math.ceil(characters.length / most));
  return Array.from({ length: count }, (_, i) => characters.slice(i * most, (i + 1) * most).join(""));
}
