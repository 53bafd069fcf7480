/** The API as this page uses it. */

const root = "api/v1";

/** A problem document (RFC 9457) that the service answered with. */
export class Problem extends Error {
  constructor(document) {
    super(document.detail ?? document.title);
    this.document = document;
  }
}

async function answerOf(response) {
  const body = await response.json();
  if (!response.ok) {
    throw new Problem(body);
  }
  return body;
}

/** Every item of a paged list. */
export async function list(name) {
  const items = [];
  let address = `${root}/${name}?limit=200`;
  let tableVersion;
  while (address) {
    const page = await answerOf(await fetch(address));
    items.push(...page.items);
    tableVersion = page.tableVersion;
    address = page.next;
  }
  return { items, tableVersion };
}

/** Identifies; when the archive is away, asks again without keeping the answer, and says so. */
export async function identify(observation) {
  const send = (store) => fetch(`${root}/identifications?store=${store}`, {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify(observation),
  });
  const kept = await send(true);
  if (kept.status !== 503) {
    return { answer: await answerOf(kept), isKept: true };
  }
  return { answer: await answerOf(await send(false)), isKept: false };
}
