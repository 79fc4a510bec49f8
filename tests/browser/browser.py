"""A headless Chromium that opens pages from files and tells what they did."""
import base64
import json
import os
import re
import tempfile

from selenium import webdriver
from selenium.webdriver.chrome.options import Options
from selenium.webdriver.chrome.service import Service
from selenium.webdriver.support.ui import WebDriverWait


class Browser:
    def __init__(self):
        options = Options()
        for argument in ("--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage",
                         "--hide-scrollbars", "--force-device-scale-factor=1", "--lang=en"):
            options.add_argument(argument)
        options.binary_location = "/usr/bin/chromium"
        options.set_capability("goog:loggingPrefs", {"browser": "ALL", "performance": "ALL"})
        self._profile = tempfile.TemporaryDirectory(prefix="dullspell-browser-")
        options.add_argument(f"--user-data-dir={self._profile.name}")
        self.driver = webdriver.Chrome(service=Service("/usr/bin/chromedriver"), options=options)
        self.driver.set_page_load_timeout(60)

    def close(self):
        self.driver.quit()
        self._profile.cleanup()

    def open(self, path, width, height=900, dark=False, scripts=True):
        """Loads a file anew in a window of that size, as a phone or a desktop would show it."""
        self.command("Emulation.setScriptExecutionDisabled", value=not scripts)
        self.command("Emulation.setDeviceMetricsOverride", width=width, height=height,
                     deviceScaleFactor=1, mobile=width < 600)
        self.command("Emulation.setEmulatedMedia", features=[
            {"name": "prefers-color-scheme", "value": "dark" if dark else "light"}])
        self.driver.get_log("browser")
        self.driver.get_log("performance")
        self.url = "file://" + os.path.abspath(path)
        self.driver.get(self.url)
        # A busy machine may give the page back before all of it is read.
        WebDriverWait(self.driver, 60).until(lambda driver: driver.execute_script(
            "return document.readyState === 'complete' && location.protocol === 'file:'"))

    def command(self, name, **arguments):
        return self.driver.execute_cdp_cmd(name, arguments)

    def ask(self, script, *arguments):
        """What a script of ours returns, also where the page's own scripts are off."""
        return self.driver.execute_script(script, *arguments)

    def console(self):
        """What the page said on the console since it was opened."""
        return [entry["message"] for entry in self.driver.get_log("browser")]

    def requests(self):
        """URLs that were asked for since then, but for the page itself."""
        urls = []
        for entry in self.driver.get_log("performance"):
            message = json.loads(entry["message"])["message"]
            if message["method"] == "Network.requestWillBeSent":
                urls.append(message["params"]["request"]["url"])
        return [url for url in urls if url != self.url]

    def text(self):
        """All text of the page in lines of single blanks; needs none of its scripts."""
        return " ".join(self.driver.find_element("tag name", "body").get_property("textContent").split())

    def shown(self, selector):
        return [e.is_displayed() for e in self.driver.find_elements("css selector", selector)]

    def printed_pages(self, width_in, height_in):
        """Sheets of that size that the page prints on."""
        pdf = base64.b64decode(self.command(
            "Page.printToPDF", paperWidth=width_in, paperHeight=height_in, preferCSSPageSize=False,
            printBackground=False)["data"])
        return len(re.findall(rb"/Type\s*/Page\b", pdf))
