// The words of one language, all rooms in one chunk.
const files = import.meta.glob<Record<string, string>>('./fr/*.json', { eager: true, import: 'default' });

const pack: Record<string, Record<string, string>> = {};
for (const [path, texts] of Object.entries(files)) pack[path.replace(/^.*\/(\w+)\.json$/, '$1')] = texts;
export default pack;
