"""What this kitchen's own cooks have taught: coats and what stays in the bowl, yields, fires, prices paid.

Handed down as plain records that the lower rooms define.
May be imported by the rooms beside it, plan, compare, the command line and the page.
"""
