"""Windows without a screen: Qt paints into memory. Set before anything imports Qt."""

import os

os.environ["QT_QPA_PLATFORM"] = "offscreen"
