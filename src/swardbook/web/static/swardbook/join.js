// The code of an invitation stands after the hash sign of its link, which is not sent: it goes into its field, and out of the address.
const code = decodeURIComponent(location.hash.slice(1)).trim();
if (/^[a-z-]{8,60}$/i.test(code)) document.getElementById("code").value = code;
if (location.hash) history.replaceState(null, "", location.pathname + location.search);
