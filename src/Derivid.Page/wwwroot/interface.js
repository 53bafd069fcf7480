/** What the package leaves unnamed or out of the keyboard's reach on the page that shows the interface. */
function mend() {
  for (const list of document.querySelectorAll("select:not([aria-label], [id])")) {
    list.setAttribute("aria-label", list.className.includes("examples") ? "Example" : "Value");
  }
  document.querySelectorAll(".close-modal").forEach((button) => button.setAttribute("aria-label", "Close"));
  for (const example of document.querySelectorAll("pre:not([tabindex])")) {
    example.tabIndex = 0;
  }
}

new MutationObserver(mend).observe(document.documentElement, { childList: true, subtree: true });
