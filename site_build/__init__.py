"""Turn `handbook/` and `calc/` into a site; see `python3 -m site_build --help`."""
