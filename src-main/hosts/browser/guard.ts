/** Who may speak to the loopback server: this page of this session, and nobody else on the machine or the net. */
import { createHash, timingSafeEqual } from 'node:crypto';
import type { IncomingMessage } from 'node:http';

/** Cookies know no ports, so two running servers must not share a name. */
export function cookieName(authority: string): string {
  return `hubtrue-${authority.split(':')[1] ?? ''}`;
}

export type Admission =
  | { readonly admitted: true; readonly byAddress: boolean; readonly address: URL }
  | { readonly admitted: false; readonly status: 400 | 401 | 403 | 421; readonly reason: string };

/**
 * Host: a page of another site that resolves its own name to 127.0.0.1 sends that name here. Origin: a page of another
 * site that posts here sends its own. Token: another account of this machine knows neither the address nor the cookie.
 */
export function admit(request: IncomingMessage, authority: string, token: string): Admission {
  if (request.headers.host !== authority)
    return { admitted: false, status: 421, reason: 'The Host header is not this server.' };
  const { origin } = request.headers;
  if (origin !== undefined && origin !== `http://${authority}`)
    return { admitted: false, status: 403, reason: 'The request comes from another origin.' };
  const site = request.headers['sec-fetch-site'];
  const base = `http://${authority}`;
  const target = request.url ?? '/';
  const address = URL.canParse(target, base) ? new URL(target, base) : null;
  if (address?.host !== authority)
    return { admitted: false, status: 400, reason: 'The address is malformed.' };
  const given = address.searchParams.get('token');
  if (given !== null && address.pathname === '/' && request.method === 'GET' && sameToken(given, token))
    return { admitted: true, byAddress: true, address };
  if (site !== undefined && site !== 'same-origin' && site !== 'none')
    return { admitted: false, status: 403, reason: 'The request comes from another site.' };
  const carried = cookieOf(request, cookieName(authority)) ?? bearerOf(request);
  if (carried !== null && sameToken(carried, token)) return { admitted: true, byAddress: false, address };
  return { admitted: false, status: 401, reason: 'Open the address that the program printed.' };
}

/** Compares digests, so that neither length nor content shows in the time taken. */
function sameToken(given: string, token: string): boolean {
  const digest = (text: string) => createHash('sha256').update(text).digest();
  return timingSafeEqual(digest(given), digest(token));
}

function cookieOf(request: IncomingMessage, wanted: string): string | null {
  for (const part of (request.headers.cookie ?? '').split(';')) {
    const [name, value] = part.trim().split('=', 2);
    if (name === wanted && value !== undefined) return value;
  }
  return null;
}

function bearerOf(request: IncomingMessage): string | null {
  return /^Bearer (.+)$/.exec(request.headers.authorization ?? '')?.[1] ?? null;
}
