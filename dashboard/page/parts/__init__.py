"""What views are made of: ``live`` (what follows what), ``boxes``, ``elements``, ``ticking``, ``buttons``, ``listing``, ``twin``, ``finding``, ``copying``, ``downloads``."""
