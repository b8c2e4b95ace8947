<?xml version="1.0"?>
<!-- A peer of the benchmark: one file for each part, pitches a major second up,
     everything else as it is. It does less than deskpart: no signature, no
     accidental, no mark of the system. -->
<xsl:stylesheet version="1.0" xmlns:xsl="http://www.w3.org/1999/XSL/Transform"
    xmlns:exsl="http://exslt.org/common" extension-element-prefixes="exsl">
  <xsl:param name="out"/>
  <xsl:template match="@*|node()"><xsl:copy><xsl:apply-templates select="@*|node()"/></xsl:copy></xsl:template>
  <xsl:template match="step"><step><xsl:value-of select="translate(., 'CDEFGAB', 'DEFGABC')"/></step></xsl:template>
  <xsl:template match="/">
    <xsl:for-each select="score-partwise/part">
      <xsl:variable name="id" select="@id"/>
      <exsl:document href="{$out}/{$id}.xml">
        <score-partwise version="4.0">
          <part-list><xsl:copy-of select="/score-partwise/part-list/score-part[@id=$id]"/></part-list>
          <xsl:apply-templates select="."/>
        </score-partwise>
      </exsl:document>
    </xsl:for-each>
  </xsl:template>
</xsl:stylesheet>
