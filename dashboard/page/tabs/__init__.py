"""What stands under the tabs, a file a tab or a part of one."""
