"""Where each page is."""

from django.urls import path

from swardbook.web.views import done, ground, looks, outbox

urlpatterns = [
    path("", looks.morning, name="morning"),
    path("week/", looks.week, name="week"),
    path("ground/", ground.zones, name="ground"),
    path("ground/<str:zone>/", ground.zone, name="zone"),
    path("ground/<str:zone>/fit/<str:job>/", ground.fit, name="fit"),
    path("done/", done.choose, name="done"),
    path("done/cut/", done.cut, name="cut"),
    path("done/kept/<uuid:entry>/", done.kept, name="kept"),
    path("done/take-back/<uuid:entry>/", done.take_back, name="take-back"),
    path("api/entries/", outbox.entries, name="api-entries"),
    path("api/entries/<uuid:entry>/take-back/", outbox.taken_back, name="api-take-back"),
    path("worker.js", outbox.worker, name="worker"),
    path("manifest.webmanifest", outbox.manifest, name="manifest"),
    path("done/<str:kind>/", done.entry, name="entry"),
]
