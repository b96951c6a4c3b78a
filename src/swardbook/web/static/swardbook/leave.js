// At log-out the pages that were kept on this phone go; what waits to be sent stays.
if ("caches" in window) for (const name of await caches.keys()) await caches.delete(name);
