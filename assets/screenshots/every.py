"""Drives the window through the accessibility bus and takes its pictures.

Called by `every`, which sets up the display and the bus.
"""

import glob
import os
import shutil
import subprocess
import sys
import tempfile
import time

import pyatspi

HERE = os.path.dirname(os.path.abspath(__file__))
SHEETS = os.path.join(HERE, "every-screen")
SIZES = [("1092x614", "150"), ("1920x1080", "200")]
THEMES = [
    ("light", ["--theme", "light"]),
    ("dark", ["--theme", "dark"]),
    ("contrast-light", ["--theme", "light", "--contrast"]),
    ("contrast-dark", ["--theme", "dark", "--contrast"]),
]


class Window:
    """The program with one lesson, as a screen reader has it."""

    def __init__(self, program, lesson, arguments, pictures):
        self.folder = tempfile.mkdtemp()
        lesson = shutil.copy(lesson, self.folder)
        self.pictures = pictures
        self.run = subprocess.Popen([program, "--forget", *arguments, lesson])
        self.tree = self.find_tree()
        found = subprocess.run(
            ["xdotool", "search", "--sync", "--onlyvisible", "--pid", str(self.run.pid)],
            capture_output=True, text=True, check=True)
        self.id = found.stdout.split()[0]
        time.sleep(4)

    def find_tree(self):
        end = time.time() + 30
        while time.time() < end:
            desktop = pyatspi.Registry.getDesktop(0)
            for i in range(desktop.childCount):
                app = desktop.getChildAtIndex(i)
                if app is not None and app.get_process_id() == self.run.pid:
                    return app
            time.sleep(0.3)
        raise SystemExit("the accessibility bus does not show the window")

    def nodes(self, node=None):
        node = node or self.tree
        yield node
        for i in range(node.childCount):
            child = node.getChildAtIndex(i)
            if child is not None:
                yield from self.nodes(child)

    def press(self, *parts):
        """Presses the first thing whose name has all these parts."""
        end = time.time() + 10
        while time.time() < end:
            for node in self.nodes():
                name = node.name or ""
                if not all(part in name for part in parts):
                    continue
                try:
                    if node.queryAction().doAction(0):
                        time.sleep(0.9)
                        return
                except NotImplementedError:
                    continue
            time.sleep(0.3)
        names = [n.name for n in self.nodes() if n.name]
        raise SystemExit(f"nothing to press is called {parts}: {names}")

    def key(self, *keys):
        for key in keys:
            subprocess.run(["xdotool", "key", "--window", self.id, key], check=True)
            time.sleep(0.5)

    def picture(self, name, window=None):
        subprocess.run(["xdotool", "mousemove", "--window", self.id, "3", "3"], check=True)
        time.sleep(0.7)
        path = os.path.join(self.pictures, f"{len(os.listdir(self.pictures)):02}-{name}.png")
        subprocess.run(["import", "-window", window or self.id, path], check=True)

    def other(self):
        """The second window of the program."""
        found = subprocess.run(
            ["xdotool", "search", "--onlyvisible", "--pid", str(self.run.pid)],
            capture_output=True, text=True, check=True)
        others = [w for w in found.stdout.split() if w != self.id]
        return others[0] if others else None

    def close(self):
        self.run.kill()
        self.run.wait()
        shutil.rmtree(self.folder, ignore_errors=True)


def demo(program, arguments, pictures):
    window = Window(program, "lessons/demo.ron", arguments, pictures)
    window.picture("board")
    window.press("Unit 5,", "ready")
    window.picture("group")
    window.press("Unit 5, bake,")
    window.key("alt+Right", "alt+Right")
    window.picture("carried")
    window.key("Escape")
    window.picture("step")
    window.press("Oven 2, ", "fullest")
    window.picture("oven")
    window.press("Adults")
    window.picture("adults")
    window.press("Minute line")
    window.picture("minute")
    window.press("As a list")
    window.picture("list")
    window.press("As a board")
    window.press("Set up")
    window.picture("in-short")
    for page, name in [
        ("Lesson and bells", "lesson"), ("Page of lemon bake", "recipe"), ("Groups", "groups"),
        ("Room 4", "room"), ("Tins", "tins"), ("Adults and rules", "adults-rules"),
    ]:
        window.press(page)
        window.picture(name)
    window.press("The plan")
    window.key("F1")
    window.picture("help")
    window.close()
    window = Window(program, "lessons/demo.ron", arguments, pictures)
    window.key("ctrl+t")
    time.sleep(2)
    window.picture("today")
    window.close()


def others(program, arguments, pictures):
    for lesson, name in [
        ("lessons/e-ginger-square.ron", "cannot"), ("lessons/d-sponges-gas.ron", "twenty"),
    ]:
        window = Window(program, lesson, arguments, pictures)
        window.picture(name)
        window.close()
    with open("lessons/demo.ron", encoding="utf-8") as file:
        text = file.read().replace('recipe: "whisked sponge"', 'recipe: "wisked sponge"')
    broken = os.path.join(tempfile.mkdtemp(), "broken.ron")
    with open(broken, "w", encoding="utf-8") as file:
        file.write(text)
    window = Window(program, broken, arguments, pictures)
    window.picture("broken")
    window.close()


def sheet(pictures, name):
    all_pictures = sorted(glob.glob(os.path.join(pictures, "*.png")))
    subprocess.run(
        ["montage", *all_pictures, "-resize", "60%", "-tile", "4x", "-geometry", "+6+6",
         "-background", "#808080", "-colors", "128", os.path.join(SHEETS, f"{name}.png")],
        check=True)


def main():
    program = sys.argv[1]
    only = sys.argv[2:] or None
    os.makedirs(SHEETS, exist_ok=True)
    for size, text in SIZES:
        for theme, words in THEMES:
            name = f"{size}-{text}-{theme}"
            if only and name not in only:
                continue
            pictures = tempfile.mkdtemp()
            arguments = ["--size", size, "--text", text, *words]
            demo(program, arguments, pictures)
            others(program, arguments, pictures)
            sheet(pictures, name)
            print(f"{name}: {len(os.listdir(pictures))} screens", flush=True)
            if os.environ.get("KEEP"):
                print(pictures)
            else:
                shutil.rmtree(pictures)


if __name__ == "__main__":
    main()
