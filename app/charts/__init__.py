"""Tables to Vega-Lite: plain dictionaries, because building chart objects anew costs each page."""
