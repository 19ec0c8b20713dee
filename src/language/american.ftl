# What is said otherwise in the United States.

language-tag = en-US

-glazing-bar = muntin
-upright-bar = upright muntin
-cross-bar = cross muntin
-rebate = rabbet
-moulding = molding
-coloured = colored
-colour = color
-centre = center
-grey = gray

# Where a sentence begins with such a word.
form-moulding = Moldings without a name: trace them here
box-glazing-bars-write-what = Muntins: write what differs from the sash
page-first-rebate-width = Old rabbet, width
page-first-rebate-depth = Old rabbet, depth
page-first-moulding-shape = Molding, shape
page-first-moulding-width = Molding, width
page-first-moulding-depth = Molding, depth
