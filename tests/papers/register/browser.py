"""A page opened in headless Chromium, driven as a person would: keys go in; what the page says and looks like comes out.

Chromium listens on two pipes of its own (`--remote-debugging-pipe`), so that nothing but the standard library is needed.
"""

import base64
import json
import os
import shutil
import subprocess
import tempfile
from pathlib import Path
from types import TracebackType
from typing import Any

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
_KEYS = {"Tab": 9, "Enter": 13, "Escape": 27, " ": 32, "ArrowUp": 38, "ArrowDown": 40}


class Browser:
    """One tab of headless Chromium; everything that the page logs or throws is kept in `said`."""

    def __init__(self, *, width: int = 1280, height: int = 900, dark: bool = False) -> None:
        assert CHROMIUM, "Chromium is not installed"
        self.said: list[str] = []
        self.asked: list[str] = []
        """Every address that the page asked for."""
        self._count = 0
        self._profile = tempfile.mkdtemp()
        theirs_in, self._to = os.pipe()
        self._from, theirs_out = os.pipe()
        for end in (theirs_in, theirs_out):
            os.set_inheritable(end, True)
        self._process = subprocess.Popen(
            ["bash", "-c", f'exec "$@" 3<&{theirs_in} 4>&{theirs_out}', "bash", CHROMIUM, "--headless=new", "--no-sandbox", "--disable-gpu",
             "--remote-debugging-pipe", "--hide-scrollbars", f"--user-data-dir={self._profile}", f"--window-size={width},{height}", "about:blank"],
            close_fds=False, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
        )  # fmt: skip
        os.close(theirs_in)
        os.close(theirs_out)
        self._rest = b""
        targets = self._call("Target.getTargets")["targetInfos"]
        tab = next(one["targetId"] for one in targets if one["type"] == "page")
        self._session: str | None = self._call("Target.attachToTarget", targetId=tab, flatten=True)["sessionId"]
        for domain in ("Page", "Runtime", "Log", "Network", "Accessibility"):
            self._call(f"{domain}.enable")
        self._call("Emulation.setDeviceMetricsOverride", width=width, height=height, deviceScaleFactor=1, mobile=width < 600)
        scheme = "dark" if dark else "light"
        self._call("Emulation.setEmulatedMedia", features=[{"name": "prefers-color-scheme", "value": scheme}])

    def __enter__(self) -> "Browser":
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None) -> None:
        self._process.terminate()
        self._process.wait(timeout=20)
        os.close(self._to)
        os.close(self._from)
        shutil.rmtree(self._profile, ignore_errors=True)

    def open(self, page: Path) -> None:
        self._call("Page.navigate", url=page.resolve().as_uri())
        while self.value("document.readyState") != "complete" or not self.value("location.href").startswith("file:"):
            pass

    def value(self, expression: str) -> Any:
        """What an expression is in the page."""
        answer = self._call("Runtime.evaluate", expression=expression, returnByValue=True, awaitPromise=True)
        assert "exceptionDetails" not in answer, answer
        return answer["result"].get("value")

    def press(self, key: str, *, times: int = 1, shift: bool = False) -> None:
        for _ in range(times):
            about = {"key": key, "code": "Space" if key == " " else key, "windowsVirtualKeyCode": _KEYS[key], "modifiers": 8 if shift else 0}
            text = {"text": "\r"} if key == "Enter" else {"text": " "} if key == " " else {}
            self._call("Input.dispatchKeyEvent", type="keyDown", **about, **text)
            self._call("Input.dispatchKeyEvent", type="keyUp", **about)

    def write(self, text: str) -> None:
        self._call("Input.insertText", text=text)

    def names_for_a_screen_reader(self) -> list[tuple[str, str]]:
        """Role and name of everything that a screen reader meets."""
        nodes = self._call("Accessibility.getFullAXTree")["nodes"]
        return [(node["role"]["value"], node.get("name", {}).get("value", "")) for node in nodes if not node.get("ignored")]

    def picture(self, file: Path) -> None:
        file.write_bytes(base64.b64decode(self._call("Page.captureScreenshot", captureBeyondViewport=True)["data"]))

    def _call(self, method: str, **given: Any) -> Any:
        self._count += 1
        message: dict[str, Any] = {"id": self._count, "method": method, "params": given}
        if getattr(self, "_session", None):
            message["sessionId"] = self._session
        os.write(self._to, json.dumps(message).encode() + b"\0")
        while True:
            answer = self._next()
            if answer.get("id") == self._count:
                assert "error" not in answer, answer
                return answer["result"]
            self._note(answer)

    def _next(self) -> Any:
        while b"\0" not in self._rest:
            piece = os.read(self._from, 1 << 16)
            assert piece, "Chromium went away"
            self._rest += piece
        one, self._rest = self._rest.split(b"\0", 1)
        return json.loads(one)

    def _note(self, event: Any) -> None:
        match event.get("method"):
            case "Runtime.consoleAPICalled" | "Runtime.exceptionThrown" | "Log.entryAdded":
                self.said.append(json.dumps(event["params"])[:500])
            case "Network.requestWillBeSent":
                self.asked.append(event["params"]["request"]["url"])
