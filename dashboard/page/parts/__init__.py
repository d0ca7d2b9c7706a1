"""What views are made of: ``live`` (what follows what), ``boxes``, ``elements``, ``buttons``, ``listing``, ``twin``, ``finding``, ``copying``, ``files``, ``downloads``."""
