// The record as it will be on paper: the core's HTML in a shadow tree of its own, so that neither the app's style
// reaches the page nor the page's the app. Scripts in it would not run; there are none.
import { useEffect, useRef } from 'preact/hooks';

export function RecordPreview({ html, label }: { html: string; label: string }) {
  const place = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const host = place.current!;
    const root = host.shadowRoot ?? host.attachShadow({ mode: 'open' });
    const page = new DOMParser().parseFromString(html, 'text/html');
    const sheets = [...page.querySelectorAll('style')].map((style) => {
      const sheet = new CSSStyleSheet();
      // The page's own rules speak of its body; here that is an element within.
      sheet.replaceSync(
        (style.textContent ?? '').replace(/(^|[\s,}])(html|body|:root)(?=[\s,{.[:>])/g, '$1.paper-page'),
      );
      style.remove();
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
