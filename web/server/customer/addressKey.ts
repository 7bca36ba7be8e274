/** What is counted as one sender: an IPv4 address, or the network (/64) that one household has of IPv6. */
export function addressKey(ip: string): string {
  const mapped = /^::ffff:(\d+\.\d+\.\d+\.\d+)$/i.exec(ip);
  if (mapped !== null) return mapped[1];
  if (!ip.includes(':')) return ip;
  const [head, tail] = ip.split('%')[0].split('::');
  const first = head === '' ? [] : head.split(':');
  const last = tail === undefined || tail === '' ? [] : tail.split(':');
  const gap = tail === undefined ? 0 : 8 - first.length - last.length;
  const groups = [...first, ...Array<string>(Math.max(0, gap)).fill('0'), ...last];
  return groups
    .slice(0, 4)
    .map((group) => group.toLowerCase().replace(/^0+(?=.)/, ''))
    .join(':');
}
