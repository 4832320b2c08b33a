"""Worth, earnings and the past as workbooks."""
