// Words broken into lines. Lines end at blanks and after a hyphen between letters; a word longer than a line is cut
// where it is full. Blanks that don't break (U+00A0, U+202F) or that stand for a figure (U+2007) stay.

const trimmed = (words: string) => words.replace(/ +$/, '');

/** Pieces that a line may end after, blanks at their ends. A number keeps its degrees and per cent. */
export function pieces(text: string): string[] {
  return (
    text
      .replace(/(?<=\d) (?=[°%‰])/g, '\u00a0')
      .match(/[^ ]*?\p{L}[-\u2010\u2013](?=\p{L})|[^ ]+ +|[^ ]+$| +/gu) ?? []
  );
}

/** As much of a word as fits, at least one letter with its marks. */
function cut(word: string, width: number, measure: (words: string) => number): string {
  const letters = word.match(/\P{M}\p{M}*|\p{M}+/gu) ?? [word];
  let taken = letters[0] ?? word;
  for (const letter of letters.slice(1)) {
    if (measure(taken + letter) > width) break;
    taken += letter;
  }
  return taken;
}

/** Lines no wider than `width` by `measure`; a line end in the text ends a line. */
export function broken(text: string, width: number, measure: (words: string) => number): string[] {
  const out: string[] = [];
  for (const paragraph of text.split('\n')) {
    let line = '';
    for (let piece of pieces(paragraph.replaceAll('\t', ' '))) {
      if (line && measure(trimmed(line + piece)) > width) {
        out.push(trimmed(line));
        line = '';
      }
      while (measure(trimmed(piece)) > width && [...piece].length > 1) {
        const head = cut(piece, width, measure);
        if (head === piece) break;
        out.push(head);
        piece = piece.slice(head.length);
      }
      line += line ? piece : piece.replace(/^ +/, '');
    }
    out.push(trimmed(line));
  }
  return out;
}
