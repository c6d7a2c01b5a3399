"""rotasolve decides what to grow where, when and in what number, over years."""

from importlib.metadata import PackageNotFoundError, version

try:
    __version__ = version("rotasolve")
except PackageNotFoundError:  # run from a checkout that was not installed
    __version__ = "0.0.0"
