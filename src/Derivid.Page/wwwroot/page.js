/** What makes the page quicker to use. Everything works without it. */

const drafts = window.sessionStorage;

/** What was typed is nobody else's: signing out clears it, in this tab and in every other. */
const leaving = new BroadcastChannel("signed-out");
leaving.onmessage = forget;

function forget() {
  Object.keys(drafts).filter((name) => name.startsWith("draft ")).forEach((name) => drafts.removeItem(name));
}

function signOut(form) {
  form.addEventListener("submit", () => {
    forget();
    leaving.postMessage("");
  });
}

/** A draft is its writer's: who signs in after a session that ended by itself does not find it. */
const draftOf = (reader, name) => `draft ${reader} ${name}`;
const reader = () => document.body.dataset.reader ?? "";

/** What was typed and not yet sent is kept in this browser tab, so that Back and a lost service lose nothing. */
function keepDraft(form) {
  const name = draftOf(reader(), form.dataset.draft);
  const fields = () => [...form.elements].filter((field) => field.name && !["hidden", "password", "file", "submit"].includes(field.type));
  // What was typed by nobody is theirs who sign in then.
  const kept = drafts.getItem(name) ?? drafts.getItem(draftOf("", form.dataset.draft));
  const seen = () => form.elements.tag?.value ?? "";
  const fill = (values) => {
    for (const field of fields()) {
      const value = values.get(field.name);
      if (value === undefined) {
        continue;
      }
      if (field.type === "checkbox" || field.type === "radio") {
        field.checked = value.includes(field.value);
      } else {
        field.value = value[0];
      }
      const isFilled = value.some((text) => text !== "") && field.name.split("/").pop() !== "kind";
      for (let fold = field.closest("details"); fold && isFilled; fold = fold.parentElement.closest("details")) {
        fold.open = true;
      }
    }
  };
  const values = new Map(kept ? JSON.parse(kept) : []);
  if (kept && form.dataset.sent === undefined) {
    if ((values.get("tag")?.[0] ?? "") === seen()) {
      fill(values);
    } else {
      // What was typed before somebody saved another version goes over it when asked, and is kept until then.
      drafts.setItem(name + EARLIER, kept);
      drafts.removeItem(name);
    }
  }
  offerEarlier(form, name, fill);
  form.addEventListener("input", () => {
    const values = new Map([["tag", [seen()]]]);
    for (const field of fields()) {
      const isUnticked = (field.type === "checkbox" || field.type === "radio") && !field.checked;
      values.set(field.name, [...(values.get(field.name) ?? []), ...(isUnticked ? [] : [field.value])]);
    }
    drafts.setItem(name, JSON.stringify([...values]));
  });
}

const EARLIER = " earlier";

/** Says that something else was typed here before another version was saved, and puts it back or drops it when asked. */
function offerEarlier(form, name, fill) {
  const earlier = drafts.getItem(name + EARLIER);
  if (!earlier) {
    return;
  }
  const box = document.createElement("p");
  box.className = "warning";
  box.setAttribute("role", "status");
  box.textContent = "You had typed something else here before another version was saved. ";
  const choose = (label, act) => {
    const button = document.createElement("button");
    button.type = "button";
    button.className = "plain";
    button.textContent = label;
    button.addEventListener("click", () => {
      act();
      drafts.removeItem(name + EARLIER);
      box.remove();
    });
    box.append(button, " ");
  };
  choose("Put it back", () => {
    fill(new Map(JSON.parse(earlier)));
    form.dispatchEvent(new Event("input"));
  });
  choose("Drop it", () => {});
  form.prepend(box);
}

/** Where a form is sent. */
const addressOf = (form) => form.getAttribute("action") ?? window.location.href;

/** A form is sent once however often its button is pressed; what comes back takes the place of the view, without a white page between. */
function sendOnce(form) {
  let isSending = false;
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    if (isSending) {
      return;
    }
    isSending = true;
    form.classList.add("sending");
    const fields = new FormData(form, event.submitter);
    const body = form.enctype === "multipart/form-data" ? fields : new URLSearchParams(fields);
    const address = addressOf(form);
    const writer = reader();
    try {
      const answer = await fetch(address, { method: "POST", body, headers: { Accept: "text/html" } });
      if (answer.ok && !answer.headers.get("Content-Type")?.startsWith("text/html")) {
        window.location.assign(answer.url);
        return;
      }
      const view = viewIn(await answer.text());
      // What led on was taken; what only asks for a key first was not. The view that comes must find no draft of it.
      if (answer.redirected && new URL(answer.url).pathname !== "/sign-in") {
        const sent = ["", writer].map((each) => draftOf(each, fields.get("_draft")));
        sent.forEach((each) => [each, each + EARLIER].forEach((name) => drafts.removeItem(name)));
      }
      show(view, form.dataset.shownAt && !answer.redirected ? new URL(form.dataset.shownAt, window.location.href).href : answer.url);
    } catch {
      isSending = false;
      form.classList.remove("sending");
      sayThatItIsAway(form);
    }
  });
}

/** The view in an answer of ours. */
function viewIn(text) {
  const view = new DOMParser().parseFromString(text, "text/html");
  if (!view.querySelector("main#content")) {
    throw new Error("Somebody else answered, such as a proxy.");
  }
  return view;
}

/** Shows a view that was fetched, as if its address had been opened. */
function show(view, address) {
  if (address !== window.location.href) {
    const answered = window.location.pathname === "/" && new URL(address).pathname.match(/^\/identifications\/([^/]+)$/);
    if (answered) {
      // Back leads to what was entered.
      window.history.replaceState(null, "", `/?from=${answered[1]}`);
    }
    window.history.pushState(null, "", address);
  }
  document.title = view.title;
  document.body.replaceWith(view.body);
  document.documentElement.dataset.views = Number(document.documentElement.dataset.views ?? 0) + 1;
  shown = place();
  enhance();
  window.scrollTo(0, 0);
  (document.querySelector("[autofocus]") ?? document.querySelector("main")).focus();
}

const place = () => window.location.pathname + window.location.search;
let shown = place();

// Back and forward open an address anew, unless they only move within the view.
window.addEventListener("popstate", () => {
  if (place() !== shown) {
    window.location.reload();
  }
});

function sayThatItIsAway(form) {
  const box = form.querySelector(".away") ?? document.createElement("p");
  box.className = "faults away";
  box.tabIndex = -1;
  box.textContent = "The service does not answer just now. What you typed is kept here; try again in a moment.";
  form.prepend(box);
  box.focus();
}

/** What the answer would be is said while something is typed; the button gives all of it, and keeps it. */
function sayWhileTyped(said) {
  const form = said.closest("form");
  let pause = 0;
  let latest = 0;
  form.addEventListener("input", () => {
    window.clearTimeout(pause);
    pause = window.setTimeout(async () => {
      const turn = ++latest;
      const fields = new URLSearchParams(new FormData(form));
      fields.set("whileTyping", "1");
      const address = addressOf(form);
      const answer = await fetch(address, { method: "POST", body: fields, headers: { Accept: "text/html" } })
        .then((response) => (response.ok ? response.text() : ""), () => "");
      // A slow answer never replaces that to what was typed later.
      if (turn === latest) {
        said.textContent = new DOMParser().parseFromString(answer, "text/html").querySelector("[data-while-typing]")?.textContent ?? "";
      }
    }, 500);
  });
  form.addEventListener("submit", () => {
    window.clearTimeout(pause);
    latest++;
  });
}

/** The answer to a search is shown while it is typed; what was typed into the form it brings is kept. */
function lookUp(search) {
  let pause = 0;
  let latest = 0;
  search.addEventListener("input", () => {
    window.clearTimeout(pause);
    pause = window.setTimeout(async () => {
      const turn = ++latest;
      const address = `${search.action}?${new URLSearchParams(new FormData(search))}`;
      const answer = await fetch(address).then((response) => (response.ok ? response.text() : null), () => null);
      const found = answer && new DOMParser().parseFromString(answer, "text/html").getElementById(search.dataset.looksUp);
      // A slow answer never replaces that to a later question.
      if (!found || turn !== latest) {
        return;
      }
      const before = document.getElementById(search.dataset.looksUp);
      if (!before) {
        return;
      }
      if (before.querySelector("form") && !found.querySelector("form")) {
        before.querySelector("[role=status]").replaceWith(found.querySelector("[role=status]"));
        return;
      }
      const form = before.querySelector("form");
      if (form && found.querySelector("form")) {
        // Whoever types in the form goes on typing: only what they left as it was is filled in anew.
        for (const next of found.querySelectorAll("form input, form textarea, form select")) {
          const field = form.elements[next.name];
          const isOwn = !field || next.name.startsWith("_") || ["idempotencyKey", "made", "revision"].includes(next.name);
          if (!isOwn && field !== document.activeElement && field.localName !== "select" && field.value === field.defaultValue) {
            field.defaultValue = next.defaultValue;
            field.value = next.value;
          }
        }
        before.querySelector("[role=status]").replaceChildren(...found.querySelector("[role=status]").childNodes);
      } else {
        before.replaceWith(found);
        found.querySelectorAll("form[data-draft]").forEach(keepDraft);
        found.querySelectorAll("form[method=post]").forEach(sendOnce);
      }
      window.history.replaceState(null, "", address);
      shown = place();
    }, 300);
  });
}

/** What goes on at the service is looked at again each second, in place, until it has ended. */
function lookAgain(part) {
  const address = place();
  const later = (seconds) => window.setTimeout(look, 1000 * seconds);
  const look = async () => {
    if (!part.isConnected || place() !== address) {
      return;
    }
    if (document.hidden) {
      later(1);
      return;
    }
    const answer = await fetch(address).then((response) => (response.ok ? response.text() : null), () => null);
    if (!answer || !part.isConnected || place() !== address) {
      later(5);
      return;
    }
    const view = viewIn(answer);
    const next = view.querySelector("[data-goes-on]");
    if (!next) {
      show(view, window.location.href);
      return;
    }
    part.replaceChildren(...next.childNodes);
    later(1);
  };
  later(1);
}

/** A moment is said by the reader's own clock too, where that is another. */
function sayLocally(time) {
  const moment = new Date(time.dateTime);
  if (time.nextElementSibling?.className === "local" || moment.getTimezoneOffset() === 0) {
    return;
  }
  const local = document.createElement("span");
  local.className = "local";
  local.textContent = ` (${new Intl.DateTimeFormat("en-GB", { dateStyle: "full", timeStyle: "short" }).format(moment)} by your clock)`;
  time.after(local);
}

/** The clocks on the wall are taken for this browser's, as they go on the day typed, until another offset is chosen for it. */
function chooseOffset(choice) {
  const moment = choice.form.elements[choice.name.slice("offset".length)];
  const two = (number) => String(Math.trunc(Math.abs(number))).padStart(2, "0");
  const take = (day) => {
    const minutes = -day.getTimezoneOffset();
    const offset = `${minutes < 0 ? "-" : "+"}${two(minutes / 60)}:${two(minutes % 60)}`;
    if ([...choice.options].some((option) => option.value === offset)) {
      choice.value = offset;
    }
  };
  const isKept = choice.form.dataset.sent !== undefined || moment.value !== "";
  choice.addEventListener("input", () => (choice.dataset.chosen = ""));
  if (isKept) {
    choice.dataset.chosen = "";
  } else {
    take(new Date());
  }
  moment.addEventListener("change", () => {
    if (choice.dataset.chosen === undefined && moment.value !== "") {
      take(new Date(moment.value));
      choice.form.dispatchEvent(new Event("input"));
    }
  });
}

// Shown again by Back, a form can be sent again.
window.addEventListener("pageshow", (event) => {
  if (event.persisted) {
    window.location.reload();
  }
});

/** Puts an address where it can be pasted from, and says so. */
function copies(button) {
  if (!navigator.clipboard) {
    return;
  }
  button.hidden = false;
  const label = button.textContent;
  button.setAttribute("aria-live", "polite");
  button.addEventListener("click", async () => {
    await navigator.clipboard.writeText(new URL(button.dataset.copies, window.location.href).href).then(
      () => (button.textContent = "Copied"),
      () => (button.textContent = "Not copied: the browser does not allow it"),
    );
    window.setTimeout(() => (button.textContent = label), 3000);
  });
}

function prints(button) {
  button.hidden = false;
  button.addEventListener("click", () => window.print());
}

/** Where a page is typed line by line, Enter goes to the next line; the last one leads to what sends it. */
function goesOn(form) {
  form.addEventListener("keydown", (event) => {
    if (event.key === "Enter" && !event.isComposing && event.target.matches("input[type=text]")) {
      event.preventDefault();
      const stops = [...form.querySelectorAll("input[type=text], button[type=submit]")];
      stops[stops.indexOf(event.target) + 1]?.focus();
    }
  });
}

function enhance() {
  document.querySelectorAll("form[data-draft]").forEach(keepDraft);
  // Signing out may lead to another site, where no script can follow.
  document.querySelectorAll('form[method=post]:not([action="/sign-out"])').forEach(sendOnce);
  document.querySelectorAll("form[data-looks-up]").forEach(lookUp);
  document.querySelectorAll("[data-while-typing]").forEach(sayWhileTyped);
  document.querySelectorAll("select[name^='offset/']").forEach(chooseOffset);
  document.querySelectorAll('form[action="/sign-out"]').forEach(signOut);
  document.querySelectorAll("[data-goes-on]").forEach(lookAgain);
  document.querySelectorAll("time[data-local]").forEach(sayLocally);
  document.querySelectorAll("[data-copies]").forEach(copies);
  document.querySelectorAll("[data-prints]").forEach(prints);
  document.querySelectorAll("form.typed").forEach(goesOn);
}

enhance();
