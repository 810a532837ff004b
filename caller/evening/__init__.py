"""An evening of a class: its plan, made from the class book and the programmes themselves, and remade when it is late.
Pure."""
