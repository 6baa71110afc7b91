"""The launcher: a server on this machine that shows the planner's notebook as a page, and nothing else."""

from __future__ import annotations

import importlib.resources
import importlib.util
import os
import shutil
import socket
import sys
import tempfile
from importlib.metadata import version
from pathlib import Path
from typing import TYPE_CHECKING, Any

from foundation import places

if TYPE_CHECKING:
    from traitlets.config import Config

TEMPLATE = Path(__file__).parent / "dashboard" / "template"
LOOPBACK = ("127.0.0.1", "localhost")
CULL_EVERY = 30  # [s]
CULL_AFTER = 180  # [s] a page that is left costs 100-250 MB until then; a page that is open is never culled

# Nothing a page shows comes from outside: the browser itself refuses to ask. The inline scripts are Voila's
# own, `eval` is its schema checker's, and blob: is how a widget's module is loaded.
CONTENT_POLICY = "; ".join(
    (
        "default-src 'self'",
        "script-src 'self' blob: 'unsafe-inline' 'unsafe-eval'",
        "style-src 'self' 'unsafe-inline'",
        "img-src 'self' data: blob:",
        "font-src 'self' data:",
        "frame-ancestors 'self'",
    )
)


class ServeError(RuntimeError):
    """The page cannot be served; the message is one sentence for the person who asked."""


def serve(
    project: Path | None = None,
    *,
    notebook: Path | None = None,
    host: str = "127.0.0.1",
    port: int = 8866,
    open_browser: bool = True,
    preheat: int = 0,
) -> None:
    """Serve the planner until Ctrl-C, and print the address once it answers.

    Parameters
    ----------
    project : Path, optional
        Project file to open; the notebook finds it as FOUNDATION_PROJECT. Without one the page starts empty.
    notebook : Path, optional
        Notebook to show instead of the planner.
    host : str, optional
        Address to listen on. Anything but this machine's own lets others in without a password.
    port : int, optional
        Port to listen on; 0 takes any free one. It stays the same by default because a browser keeps its
        recovery copy by address. [-]
    open_browser : bool, optional
        Whether to open a browser window.
    preheat : int, optional
        Number of kernels kept started, so that a page opens sooner. [-]

    Raises
    ------
    ServeError
        If a part is not installed, a file does not exist or the port is taken.
    """
    _check_installed("voila", "ipykernel", "ipywidgets", "anywidget", "plotly")
    notebook = notebook or places.notebooks("planner.ipynb")
    for name, file in (("project file", project), ("notebook", notebook)):
        if file is not None and not file.is_file():
            raise ServeError(f"There is no {name} {file}; check the name, or leave it out.")
    port = _free_port(host, port)
    os.environ.pop("FOUNDATION_PROJECT", None)
    if project is not None:
        os.environ["FOUNDATION_PROJECT"] = str(project.resolve())
    os.environ["VOILA_APP_IP"] = host  # where a preheated kernel asks for its page's address
    server_class = _server_class()
    # The one instance of its process: what Voila's parts log reaches the window only through that.
    server = server_class.instance(config=_configuration(notebook, host, port, open_browser, preheat))
    server.config_file_paths = []  # settings made for other notebooks must not open this page's doors
    try:
        server.initialize([])
        server.start()
    except KeyboardInterrupt:
        pass
    finally:
        server_class.clear_instance()


def _check_installed(*parts: str) -> None:
    missing = [part for part in parts if importlib.util.find_spec(part) is None]
    if missing:
        raise ServeError(
            f"The page needs {', '.join(missing)}, which {sys.executable} does not have; "
            "install the planner again together with what it depends on."
        )


def _free_port(host: str, port: int) -> int:
    """The port, once it is seen to be free: a taken one must end in a sentence before a kernel starts."""
    if not 0 <= port <= 65535:
        raise ServeError(f"Port {port} does not exist: choose one from 0 to 65535, 0 for any free one.")
    with socket.socket() as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)  # as the server does after a restart
        try:
            probe.bind((host, port))
        except OSError as error:
            raise ServeError(
                f"Port {port} on {host} cannot be used ({error.strerror}): perhaps the planner is open "
                "already; close its other window, or choose another port."
            ) from error
        return int(probe.getsockname()[1])


def _configuration(notebook: Path, host: str, port: int, open_browser: bool, preheat: int) -> Config:
    from traitlets.config import Config

    return Config(
        Voila={
            "notebook_path": str(notebook),
            "ip": host,
            "port": port,
            "port_retries": 0,
            "open_browser": open_browser,
            "log_level": "ERROR",
            "tornado_settings": {
                # Only pages of this address may talk to the kernels, even when another name leads to it.
                "allow_remote_access": host not in LOOPBACK,
                "headers": {"Content-Security-Policy": CONTENT_POLICY},
                "ws_ping_timeout": 30_000,  # [ms] the server's own default is more than it allows itself
            },
        },
        VoilaConfiguration={
            "file_allowlist": [],
            "show_tracebacks": False,
            "allow_template_override": "NO",
            "allow_theme_override": "NO",
            # Other extensions of the same environment would only slow the page down.
            "extension_allowlist": [
                "anywidget",
                "@jupyter-widgets/jupyterlab-manager",
                "@voila-dashboards/widgets-manager8",
            ],
            "preheat_kernel": preheat > 0,
            "default_pool_size": preheat,
            "resources": {"plotly_version": version("plotly")},
        },
        MappingKernelManager={"cull_interval": CULL_EVERY, "cull_idle_timeout": CULL_AFTER},
        # A restarted kernel is an empty one: the page would look alive and would not be.
        KernelManager={"autorestart": False, "transport": _transport()},
    )


def _transport() -> str:
    """Sockets in the file system, closed to other users of the machine, where their names fit."""
    room = 107 - len("/voila_12345678/kernel-12345678-1234-1234-1234-123456789012-ipc-1")  # Linux's sun_path
    return "ipc" if sys.platform == "linux" and len(tempfile.gettempdir()) <= room else "tcp"


def _server_class() -> Any:
    """Voila's application with our template, one more route, and kernels of this very Python.

    Made on call: importing Voila takes most of a second, which no other command should pay.
    """
    import tornado.ioloop
    import tornado.web
    import traitlets
    from jupyter_client.kernelspec import KernelSpecManager
    from jupyter_core.utils import run_sync
    from jupyter_server.utils import url_path_join
    from voila.app import Voila

    class OwnPython(KernelSpecManager):
        """Looks for kernels nowhere: what is left is ipykernel's own, run by this Python."""

        @traitlets.default("kernel_dirs")
        def _no_folders(self) -> list[str]:
            return []

    class Runtime(tornado.web.StaticFileHandler):
        """Plotly's script, out of its own package; the version in the address lets it be kept for years."""

        def set_extra_headers(self, path: str) -> None:
            if self.get_cache_time(path, None, ""):
                self.set_header("Cache-Control", f"max-age={self.CACHE_MAX_AGE}, immutable")

    class Leave(tornado.web.RequestHandler):
        """Hears that a page is left and lets the culling end its kernel: Voila's own answer is a refusal, printed."""

        def post(self, _kernel: str) -> None:
            self.set_status(204)

    class PlannerServer(Voila):
        name = "foundation"

        def setup_template_dirs(self) -> None:
            super().setup_template_dirs()
            self.voila_configuration.kernel_spec_manager_class = OwnPython
            self.template_paths.insert(0, str(TEMPLATE))

        def init_handlers(self) -> list[Any]:
            folder = importlib.resources.files("plotly") / "package_data"
            runtime = url_path_join(self.server_url, r"/voila/plotly/(plotly\.min\.js)")
            leave = url_path_join(self.server_url, r"/voila/api/shutdown/(.*)")
            return [(runtime, Runtime, {"path": str(folder)}), (leave, Leave), *super().init_handlers()]

        def listen(self) -> None:
            ready = f"The planner is open at {self.connection_url} (Ctrl-C closes it)."
            # Runs when the loop does, that is once the port answers.
            tornado.ioloop.IOLoop.current().add_callback(print, ready, flush=True)
            super().listen()

        def stop(self) -> None:
            # The pages have gone with the server; a kernel asked politely in the middle of its work answers a
            # closed socket, and prints an error over the last words.
            run_sync(self.kernel_manager.shutdown_all)(now=True)
            shutil.rmtree(self.connection_dir, ignore_errors=True)

    return PlannerServer
