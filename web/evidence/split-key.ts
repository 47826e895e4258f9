/** The name and unit of a key whose unit stands behind its underscore: `hitClearance_dB` is `hit clearance`, `dB`. */
export function splitKey(key: string): { readonly name: string; readonly unit: string } {
  const [camel, ...units] = key.split('_');
  const name = camel!
    .replace(/([a-z])([A-Z])/g, (_, before: string, after: string) => `${before} ${after.toLowerCase()}`)
    .replace(/([A-Za-z])(\d)/g, '$1 $2')
    .replace(/(\d)(dB|Hz|ms)/g, '$1\u00a0$2');
  const unit = units.join(' ').replace(/^dB per oct$/, 'dB/oct');
  return { name: name.trim(), unit };
}
