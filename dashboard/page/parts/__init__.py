"""What views are made of: ``live`` (what follows what), ``boxes``, ``elements``, ``ticking``, ``buttons``, ``twin``, ``finding``, ``copying``, ``files``, ``downloads``, ``picture_saver``."""
