"""A headless Chromium, driven over its own debugging protocol.

Conventions: started in a folder of its own, ended with the test; ``evaluate`` runs an expression in the page.
"""

from __future__ import annotations

import asyncio
import base64
import shutil
import subprocess
from pathlib import Path
from types import TracebackType
from typing import Any

import aiohttp
import numpy as np
import numpy.typing as npt

_NAMES = ("chromium", "chromium-browser", "google-chrome", "chrome")


def program() -> str:
    """The browser's path, "" where there is none."""
    return next((path for path in map(shutil.which, _NAMES) if path), "")


def missing() -> str:
    return "" if program() else "no Chromium is installed (Debian: sudo apt install chromium)"


# A picture, as base64, to its pixels, as base64.
READ = """async (png) => {
  const bytes = Uint8Array.from(atob(png), (one) => one.charCodeAt(0));
  const image = await createImageBitmap(new Blob([bytes], { type: "image/png" }));
  const canvas = new OffscreenCanvas(image.width, image.height), drawing = canvas.getContext("2d");
  drawing.drawImage(image, 0, 0);
  const read = drawing.getImageData(0, 0, image.width, image.height).data;
  let text = "";
  for (let at = 0; at < read.length; at += 32768) text += String.fromCharCode(...read.subarray(at, at + 32768));
  return { wide: image.width, high: image.height, pixels: btoa(text) };
}"""


class Browser:
    """One page. ``async with Browser(folder) as browser``."""

    def __init__(self, folder: Path, width: int = 1280, height: int = 720) -> None:
        self._folder = folder
        words = ("--headless=new", "--no-sandbox", "--disable-gpu", "--no-first-run", "--remote-debugging-port=0")
        self._command = [
            program(),
            *words,
            f"--user-data-dir={folder}",
            f"--window-size={width},{height}",
            "about:blank",
        ]
        self._number = 0

    async def __aenter__(self) -> Browser:
        self._process = subprocess.Popen(self._command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        port_file = self._folder / "DevToolsActivePort"
        async with asyncio.timeout(30):
            while not port_file.exists() or len(port_file.read_text().splitlines()) < 2:
                await asyncio.sleep(0.05)
        port = port_file.read_text().splitlines()[0]
        self._client = aiohttp.ClientSession()
        async with self._client.get(f"http://127.0.0.1:{port}/json") as response:
            (target,) = [one for one in await response.json() if one["type"] == "page"]
        self._socket = await self._client.ws_connect(target["webSocketDebuggerUrl"], max_msg_size=0)
        return self

    async def __aexit__(self, *_: type[BaseException] | BaseException | TracebackType | None) -> None:
        await self._socket.close()
        await self._client.close()
        self._process.terminate()
        self._process.wait(10)

    async def ask(self, method: str, **words: Any) -> dict[str, Any]:
        self._number += 1
        await self._socket.send_json({"id": self._number, "method": method, "params": words})
        async with asyncio.timeout(30):
            while True:
                answer = await self._socket.receive_json()
                if answer.get("id") == self._number:
                    assert "error" not in answer, answer
                    return dict(answer["result"])

    async def open(self, url: str) -> None:
        await self.ask("Page.navigate", url=url)

    async def evaluate(self, expression: str) -> Any:
        answer = await self.ask("Runtime.evaluate", expression=expression, awaitPromise=True, returnByValue=True)
        return answer["result"].get("value")

    async def until(self, expression: str, seconds: float = 10) -> None:
        """Until the expression is true in the page."""
        async with asyncio.timeout(seconds):
            while not await self.evaluate(expression):
                await asyncio.sleep(0.01)

    async def picture(self, path: Path) -> None:
        path.write_bytes(base64.b64decode(await self._png()))

    async def pixels(self) -> npt.NDArray[np.uint8]:
        """What shows, (rows, columns, red green blue). Drawn as a picture and read back in the browser itself."""
        answer = await self.evaluate(f"({READ})('{await self._png()}')")
        rgba = np.frombuffer(base64.b64decode(answer["pixels"]), dtype=np.uint8)
        return rgba.reshape(answer["high"], answer["wide"], 4)[..., :3]

    async def _png(self) -> str:
        return str((await self.ask("Page.captureScreenshot", format="png"))["data"])
