// An SVG text as our own core writes it, read into a tree with each shape's look settled: style sheet, attributes and
// what the elements around it pass on. No entity but the five of XML, no scripts, no references to elsewhere.
export interface Node {
  tag: string;
  attributes: Record<string, string>;
  /** Look by CSS names: fill, stroke, stroke-width, font-size, text-anchor ... */
  look: Record<string, string>;
  children: Node[];
  text: string;
}

const inherited = new Set([
  'fill',
  'stroke',
  'stroke-width',
  'stroke-dasharray',
  'stroke-linecap',
  'stroke-linejoin',
  'font-size',
  'font-weight',
  'text-anchor',
  'paint-order',
]);

const entities: Record<string, string> = { lt: '<', gt: '>', quot: '"', apos: "'", amp: '&' };

function plain(text: string): string {
  return text.replace(/&(#x[0-9a-f]+|#\d+|\w+);/gi, (whole, name: string) => {
    if (!name.startsWith('#')) return entities[name] ?? whole;
    const code = name[1] === 'x' || name[1] === 'X' ? parseInt(name.slice(2), 16) : Number(name.slice(1));
    return code <= 0x10ffff ? String.fromCodePoint(code) : whole;
  });
}

export function parsed(text: string): Node | null {
  const root: Node = { tag: '', attributes: {}, look: {}, children: [], text: '' };
  const open = [root];
  const parts =
    /<!--[\s\S]*?-->|<\?[\s\S]*?\?>|<!\[CDATA\[([\s\S]*?)\]\]>|<!(?:[^>]*)>|<\/[^>]*>|<([\w:-]+)((?:[^>"']|"[^"]*"|'[^']*')*?)(\/?)>|[^<]+/g;
  for (const [whole, data, tag, attributes, closed] of text.matchAll(parts)) {
    const at = open[open.length - 1]!;
    if (data !== undefined) at.text += data;
    else if (whole.startsWith('</')) {
      if (open.length > 1) open.pop();
    } else if (tag) {
      const node: Node = { tag, attributes: {}, look: {}, children: [], text: '' };
      for (const [, name, , one, two] of attributes!.matchAll(/([\w:-]+)\s*=\s*("([^"]*)"|'([^']*)')/g))
        node.attributes[name!] = plain(one ?? two ?? '');
      at.children.push(node);
      if (!closed) open.push(node);
    } else if (!whole.startsWith('<')) at.text += plain(whole);
  }
  const svg = root.children.find((n) => n.tag === 'svg') ?? null;
  // A sheet beside the drawing dresses it too.
  if (svg) svg.children.unshift(...root.children.filter((n) => n.tag === 'style'));
  return svg;
}

interface Rule {
  selector: { tag: string; classes: string[] }[];
  weight: number;
  look: Record<string, string>;
}

function declared(text: string): Record<string, string> {
  const out: Record<string, string> = {};
  for (const part of text.split(';')) {
    const colon = part.indexOf(':');
    if (colon > 0) out[part.slice(0, colon).trim()] = part.slice(colon + 1).trim();
  }
  return out;
}

/** Rules of a sheet, paper's only: what stands in an at-rule is for screens. */
function rules(sheet: string): Rule[] {
  const out: Rule[] = [];
  const flat = sheet.replace(/\/\*[\s\S]*?\*\//g, '').replace(/@[^{]*\{(?:[^{}]*\{[^{}]*\})*[^{}]*\}/g, '');
  for (const [, selectors, body] of flat.matchAll(/([^{}]+)\{([^{}]*)\}/g))
    for (const text of selectors!.split(',')) {
      const steps = text
        .trim()
        .split(/\s+/)
        .map((step) => {
          const [tag = '', ...classes] = step.split('.');
          return { tag, classes };
        });
      const weight = steps.reduce((sum, s) => sum + 100 * s.classes.length + (s.tag ? 1 : 0), 0);
      out.push({ selector: steps, weight, look: declared(body!) });
    }
  return out.sort((a, b) => a.weight - b.weight); // stable: later rules of one weight win
}

function matches(rule: Rule, way: Node[]): boolean {
  const fits = (step: Rule['selector'][number], node: Node) => {
    const classes = (node.attributes['class'] ?? '').split(/\s+/);
    return (!step.tag || step.tag === node.tag) && step.classes.every((c) => classes.includes(c));
  };
  let step = rule.selector.length - 1;
  for (let i = way.length - 1; i >= 0 && step >= 0; --i) {
    if (fits(rule.selector[step]!, way[i]!)) --step;
    else if (i === way.length - 1) return false;
  }
  return step < 0;
}

function sheets(node: Node): string {
  return node.tag === 'style' ? node.text : node.children.map(sheets).join('\n');
}

/** Settles every node's look, from the top down. */
export function dressed(root: Node): Node {
  const all = rules(sheets(root));
  const dress = (node: Node, way: Node[], above: Record<string, string>) => {
    const here = [...way, node];
    for (const name of inherited) if (above[name] !== undefined) node.look[name] = above[name];
    for (const [name, value] of Object.entries(node.attributes))
      if (inherited.has(name) || name === 'opacity' || name === 'clip-path') node.look[name] = value;
    for (const rule of all) if (matches(rule, here)) Object.assign(node.look, rule.look);
    Object.assign(node.look, declared(node.attributes['style'] ?? ''));
    for (const child of node.children) dress(child, here, node.look);
  };
  dress(root, [], {});
  return root;
}
