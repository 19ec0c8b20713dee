# What is said otherwise in the United States.

language-tag = en-US

-glazing-bar = muntin
-upright-bar = upright muntin
-cross-bar = cross muntin
-rebated = rabbeted
-rebate = rabbet
-moulding = molding
-coloured = colored
-colour = color
-centre = center
-grey = gray
-mould = mold
