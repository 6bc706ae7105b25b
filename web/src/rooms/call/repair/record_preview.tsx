// The record as it will be on paper: the core's HTML in a shadow tree of its own, so that neither the app's style
// reaches the page nor the page's the app. Scripts in it would not run; there are none.
import { useEffect, useRef } from 'preact/hooks';

export function RecordPreview({ html, label }: { html: string; label: string }) {
  const place = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const host = place.current!;
    const root = host.shadowRoot ?? host.attachShadow({ mode: 'open' });
    // The app's policy allows no style in markup: rules and style attributes are taken out before it is parsed and
    // put on by way of objects. In texts quotes are escaped, so only markup has ` style="`.
    const rules: string[] = [];
    const bare = html
      .replace(/<style[^>]*>([\s\S]*?)<\/style>/g, (_, css: string) => {
        rules.push(css);
        return '';
      })
      .replace(/ style="/g, ' data-style="');
    const page = new DOMParser().parseFromString(bare, 'text/html');
    for (const e of page.querySelectorAll<HTMLElement>('[data-style]')) e.style.cssText = e.dataset.style!;
    const sheets = rules.map((css) => {
      const sheet = new CSSStyleSheet();
      // The page's own rules speak of its body; here that is an element within.
      sheet.replaceSync(css.replace(/(^|[\s,}])(html|body|:root)(?=[\s,{.[:>])/g, '$1.paper-page'));
      return sheet;
    });
    root.adoptedStyleSheets = sheets;
    const body = document.createElement('div');
    body.className = 'paper-page';
    body.append(...page.body.childNodes);
    root.replaceChildren(body);
  }, [html]);
  return (
    <div class="record-page" ref={place} role="document" aria-label={label} data-own-words tabIndex={0} />
  );
}
