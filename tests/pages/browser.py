"""A headless Chromium, spoken to through its debugging pipe: no port, no further package."""

import base64
import json
import os
import subprocess
import tempfile


class Browser:
    """One tab. Events are kept in `events` until they are looked at."""

    def __init__(self, program="chromium"):
        self._profile = tempfile.TemporaryDirectory(prefix="runnel-pages-")
        to_browser, self._out = os.pipe()
        self._in, from_browser = os.pipe()

        def as_3_and_4():  # where Chromium looks for the pipe
            spare = os.dup(from_browser)
            os.dup2(to_browser, 3)
            os.dup2(spare, 4)
            os.set_inheritable(3, True)  # dup2 onto itself leaves it as it was
            os.set_inheritable(4, True)

        self._process = subprocess.Popen(
            [program, "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run",
             "--disable-background-networking", "--remote-debugging-pipe",
             "--user-data-dir=" + self._profile.name, "about:blank"],
            preexec_fn=as_3_and_4, close_fds=False,
            stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        os.close(to_browser)
        os.close(from_browser)
        self._buffer = b""
        self._last_id = 0
        self._session = None
        self.events = []
        page = next(target for target in self.call("Target.getTargets")["targetInfos"]
                    if target["type"] == "page")
        self._session = self.call("Target.attachToTarget", targetId=page["targetId"],
                                  flatten=True)["sessionId"]
        for domain in ("Page", "Runtime", "Log", "Network"):
            self.call(domain + ".enable")

    def close(self):
        self._session = None
        self.call("Browser.close")
        self._process.wait(timeout=60)
        self._profile.cleanup()

    def _receive(self):
        while b"\0" not in self._buffer:
            read = os.read(self._in, 1 << 20)
            if not read:
                raise RuntimeError("Chromium ended")
            self._buffer += read
        message, self._buffer = self._buffer.split(b"\0", 1)
        return json.loads(message)

    def call(self, method, **params):
        self._last_id += 1
        message = {"id": self._last_id, "method": method, "params": params}
        if self._session:
            message["sessionId"] = self._session
        os.write(self._out, json.dumps(message).encode() + b"\0")
        while True:
            answer = self._receive()
            if answer.get("id") == self._last_id:
                if "error" in answer:
                    raise RuntimeError(method + ": " + answer["error"]["message"])
                return answer["result"]
            self.events.append(answer)

    def open(self, path):
        self.events.clear()
        self.call("Page.navigate", url="file://" + os.path.abspath(path))
        while not any(event.get("method") == "Page.loadEventFired" for event in self.events):
            self.events.append(self._receive())

    def width(self, pixels, height=800):
        self.call("Emulation.setDeviceMetricsOverride", width=pixels, height=height,
                  deviceScaleFactor=1, mobile=pixels < 600)

    def dark(self, dark):
        self.call("Emulation.setEmulatedMedia", features=[
            {"name": "prefers-color-scheme", "value": "dark" if dark else "light"}])

    def evaluate(self, expression):
        result = self.call("Runtime.evaluate", expression=expression, returnByValue=True)
        if "exceptionDetails" in result:
            raise RuntimeError(str(result["exceptionDetails"]))
        return result["result"].get("value")

    def pdf(self, width_in, height_in):
        """Letters' own margins: those of the page's style."""
        return base64.b64decode(self.call(
            "Page.printToPDF", paperWidth=width_in, paperHeight=height_in,
            preferCSSPageSize=False, printBackground=False)["data"])

    def screenshot(self):
        return base64.b64decode(self.call("Page.captureScreenshot",
                                          captureBeyondViewport=True)["data"])
