import { test as base, expect, type Page } from '@playwright/test';

/**
 * A page that must stay quiet: no error on its console, no breach of its Content-Security-Policy, no request to
 * anywhere but where it came from. Held at the end of every test that uses it.
 */
export const test = base.extend<{ page: Page }>({
  page: async ({ page, baseURL }, use) => {
    const complaints: string[] = [];
    page.on('console', (message) => {
      if (message.type() === 'error' || /content.security.policy/i.test(message.text())) {
        complaints.push(`console: ${message.text()}`);
      }
    });
    page.on('pageerror', (error) => complaints.push(`uncaught: ${error.message}`));
    page.on('request', (request) => {
      const url = new URL(request.url());
      const isLocal = url.protocol === 'data:' || url.protocol === 'blob:' || url.origin === baseURL;
      if (!isLocal) complaints.push(`request to ${url.origin}`);
    });
    await use(page);
    expect(complaints, 'what the page complained of, or asked for elsewhere').toEqual([]);
  },
});

export { expect };
