// Looks every two seconds whether what is worked out is there, and shows it then.
const EVERY = 2_000;

async function look() {
  try {
    const answer = await fetch(location.href, { method: "HEAD", credentials: "same-origin" });
    if (answer.status !== 202) return location.reload();
  } catch {
    // No signal: look again.
  }
  setTimeout(look, EVERY);
}

setTimeout(look, EVERY);
