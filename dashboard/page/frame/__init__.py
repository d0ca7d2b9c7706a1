"""What stands round the tabs: ``headline``, ``filters``, ``market``, ``steering``, ``running`` (prepared views), ``tab_bar``."""
