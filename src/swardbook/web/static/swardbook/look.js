// Before anything is drawn: light, dark or outdoor as this phone was told, and which hand holds it.
(() => {
  const held = (name) => { try { return localStorage.getItem(`swardbook.${name}`); } catch { return null; } };
  const look = held("look"), hand = held("hand");
  const root = document.documentElement;
  root.classList.add("scripted", hand === "left" ? "hand-left" : "hand-right");
  if (["light", "dark", "outdoor"].includes(look)) root.classList.add(look);
})();
