import { createReadStream, existsSync, statSync } from 'node:fs';
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import { extname, join, normalize, sep } from 'node:path';

/**
 * Serves the built app on the loopback address alone, with the same strict policy in the headers that the page
 * states itself. Nothing but files of the build is ever read.
 */
const CONTENT_SECURITY_POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self'",
  "img-src 'self' data: blob:",
  "font-src 'self'",
  "worker-src 'self'",
  "connect-src 'none'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join('; ');

const MEDIA_TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.json': 'application/json',
  '.csv': 'text/csv; charset=utf-8',
  '.geojson': 'application/geo+json',
  '.png': 'image/png',
  '.woff2': 'font/woff2',
};

const LOOPBACK = '127.0.0.1';
const PORTS_TO_TRY = 50;

export interface RunningServer {
  readonly server: Server;
  readonly port: number;
  /** The wanted port was taken by somebody else. */
  readonly wantedPortWasBusy: boolean;
}

/** Listens on the wanted port or the next free one after it. */
export async function serveApp(folder: string, wantedPort: number): Promise<RunningServer> {
  for (let port = wantedPort; port < wantedPort + PORTS_TO_TRY; port += 1) {
    const server = await listen(folder, port);
    if (server !== null) return { server, port, wantedPortWasBusy: port !== wantedPort };
  }
  throw new Error(
    `no free port between ${wantedPort} and ${wantedPort + PORTS_TO_TRY - 1}; set PORT to another one`,
  );
}

function listen(folder: string, port: number): Promise<Server | null> {
  return new Promise((resolve, reject) => {
    const server = createServer((request, response) => respond(folder, request, response));
    server.once('error', (error: NodeJS.ErrnoException) => {
      if (error.code === 'EADDRINUSE' || error.code === 'EACCES') resolve(null);
      else reject(error);
    });
    server.listen(port, LOOPBACK, () => resolve(server));
  });
}

function respond(folder: string, request: IncomingMessage, response: ServerResponse): void {
  response.setHeader('Content-Security-Policy', CONTENT_SECURITY_POLICY);
  response.setHeader('X-Content-Type-Options', 'nosniff');
  response.setHeader('Referrer-Policy', 'no-referrer');
  response.setHeader('Cache-Control', 'no-cache');
  const isReading = request.method === 'GET' || request.method === 'HEAD';
  const file = isReading ? fileFor(folder, request.url ?? '/') : null;
  if (file === null) refuse(response, isReading ? 404 : 405);
  else sendFile(file, request.method === 'HEAD', response);
}

function sendFile(file: string, headOnly: boolean, response: ServerResponse): void {
  response.setHeader('Content-Type', MEDIA_TYPES[extname(file)] ?? 'application/octet-stream');
  if (headOnly) response.end();
  else
    createReadStream(file)
      .on('error', () => response.destroy())
      .pipe(response);
}

/** null unless the address leads to a file inside the folder. */
export function fileFor(folder: string, url: string): string | null {
  const path = decodedPath(url);
  if (path === null || path.includes('\0')) return null;
  const file = normalize(join(folder, path.endsWith('/') ? `${path}index.html` : path));
  if (!file.startsWith(normalize(folder) + sep)) return null;
  return existsSync(file) && statSync(file).isFile() ? file : null;
}

function decodedPath(url: string): string | null {
  try {
    return decodeURIComponent(url.split(/[?#]/)[0] ?? '/');
  } catch {
    return null;
  }
}

function refuse(response: ServerResponse, status: number): void {
  response.statusCode = status;
  response.setHeader('Content-Type', 'text/plain; charset=utf-8');
  response.end(status === 404 ? 'There is no such page here.\n' : 'Only reading is possible here.\n');
}
