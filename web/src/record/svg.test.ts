import { describe, expect, it } from 'vitest';
import { pathData, proportion } from './svg';
import { dressed, parsed, type Node } from './svg_tree';
import { chartSvg } from './sample_model';

const find = (node: Node, css: string): Node | undefined =>
  node.attributes['class'] === css ? node : node.children.map((n) => find(n, css)).find((n) => n);

describe('a drawing read', () => {
  const root = dressed(parsed(chartSvg)!);
  it('takes looks from the sheet as a browser does', () => {
    expect(find(root, 'dew blend')!.look).toMatchObject({
      stroke: '#a3521a',
      'stroke-dasharray': '9 3',
      fill: 'none',
    });
    expect(find(root, 'dew')!.look['stroke-width']).toBe('2');
    expect(find(root, 'over')!.look).toMatchObject({
      fill: '#22303a',
      stroke: '#fffefb',
      'font-weight': '700',
    });
    expect(find(root, 'plot')!.look['fill']).toBe('#fffefb'); // paper's, not the dark screen's
  });
  it('reads entities and passes looks on', () => {
    const g = dressed(parsed('<svg><g fill="#123456"><text>a &lt;&#x41;&amp;</text><!-- <b> --></g></svg>')!)
      .children[0]!;
    expect(g.children).toHaveLength(1);
    expect(g.children[0]).toMatchObject({ text: 'a <A&', look: { fill: '#123456' } });
  });
  it('takes a sheet that stands beside the drawing', () => {
    const moved = chartSvg.replace(/(<svg[^>]*>)(<style>[^]*<\/style>)/, '$2$1');
    expect(find(dressed(parsed(moved)!), 'plot')!.look['fill']).toBe('#fffefb');
  });
  it('knows its size, and what is no drawing', () => {
    expect(proportion(chartSvg)).toEqual({ width: 500, height: 300 });
    expect(proportion('')).toBeNull();
    expect(parsed('words')).toBeNull();
    expect(pathData('M0 0 L1e1-2')).toBe('M0 0 L1e1-2');
    expect(pathData('M0 0"/><script')).toBe('');
    expect(pathData(undefined)).toBe('');
  });
});
